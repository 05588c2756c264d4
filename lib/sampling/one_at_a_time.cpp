#include "sampling/one_at_a_time.h"

namespace thickset {

std::vector<AtItsEnds> one_at_a_time(const CourseToSample& what,
                                     std::span<const UncertainInput> inputs) {
  std::vector<AtItsEnds> ends;
  std::vector<double> off(inputs.size(), 0.0);
  for (std::size_t i = 0; i < inputs.size(); ++i) {
    off[i] = -1.0;
    const Sample low = sample_at(what, inputs, off);
    off[i] = 1.0;
    const Sample high = sample_at(what, inputs, off);
    off[i] = 0.0;
    ends.push_back({inputs[i].what, low, high});
  }
  return ends;
}

}  // namespace thickset

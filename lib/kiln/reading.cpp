#include "kiln/reading.h"

#include <algorithm>

namespace thickset {

std::vector<Reading> means_over_time(std::span<const Reading> readings, std::size_t most) {
  if (readings.size() <= most) return {readings.begin(), readings.end()};
  const double start_s = readings.front().time_s;
  const double width_s = (readings.back().time_s - start_s) / static_cast<double>(most);
  std::vector<Reading> means;
  means.reserve(most);
  std::size_t at = 0;
  for (std::size_t bin = 1; bin <= most; ++bin) {
    const double end_s = bin == most ? readings.back().time_s + width_s
                                     : start_s + static_cast<double>(bin) * width_s;
    Reading sum{0.0, 0.0};
    double count = 0.0;
    for (; at < readings.size() && readings[at].time_s < end_s; ++at) {
      sum.time_s += readings[at].time_s;
      sum.T_K += readings[at].T_K;
      count += 1.0;
    }
    if (count > 0.0) means.push_back({sum.time_s / count, sum.T_K / count});
  }
  return means;
}

}  // namespace thickset

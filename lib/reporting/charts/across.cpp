#include "reporting/charts/across.h"

namespace thickset {

Across across(const std::vector<double>& position_m,
              const std::vector<double>& value,
              bool both_sides_alike,
              Lengths unit) {
  Across whole;
  const auto put = [&](double at_m, double what) {
    whole.position.push_back(in_lengths(Length::from_m(at_m), unit));
    whole.value.push_back(what);
  };
  if (both_sides_alike) {
    for (std::size_t i = position_m.size() - 1; i > 0; --i) put(-position_m[i], value[i]);
  }
  for (std::size_t i = 0; i < position_m.size(); ++i) put(position_m[i], value[i]);
  return whole;
}

std::string position_words(bool both_sides_alike, Lengths unit) {
  return std::string{unit_name(unit)} +
         (both_sides_alike ? " from the middle" : " from the face that cools worse");
}

}  // namespace thickset

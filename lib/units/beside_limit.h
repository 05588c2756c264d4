#pragma once

#include <string>

#include <fmt/format.h>

namespace thickset {

/// A value as it stands beside its limit: to a tenth, and where that would hide that it is over, to
/// the digit that shows it: "3.0" and "3.04" beside 3.
inline std::string beside_limit(double value, double limit) {
  constexpr int most_digits = 6;
  int digits = 1;
  double half_unit = 0.05;
  while (value > limit && value - limit < half_unit && digits < most_digits) {
    ++digits;
    half_unit *= 0.1;
  }
  return fmt::format("{:.{}f}", value, digits);
}

}  // namespace thickset

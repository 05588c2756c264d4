#include "reporting/charts/scale.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace thickset {
namespace {

std::vector<double> multiples(Range range, double apart) {
  constexpr double rounding = 1e-9;
  std::vector<double> ticks;
  const double first = std::ceil(range.low / apart - rounding);
  const double last = std::floor(range.high / apart + rounding);
  for (double n = first; n <= last; n += 1.0) ticks.push_back(n * apart + 0.0);  // never "-0"
  return ticks;
}

bool fits(Range range, double apart, int most) {
  return (range.high - range.low) / apart <= most - 1.0 + 1e-9;
}

}  // namespace

Range range_of(std::span<const double> values) {
  assert(!values.empty());
  const auto [low, high] = std::minmax_element(values.begin(), values.end());
  return {*low, *high};
}

Range with(Range range, double value) {
  return {std::min(range.low, value), std::max(range.high, value)};
}

std::vector<double> nice_ticks(Range range, int most) {
  assert(range.low < range.high && most >= 2);
  double decade = std::pow(10.0, std::floor(std::log10((range.high - range.low) / most)));
  for (;; decade *= 10.0) {
    for (const double times : {1.0, 2.0, 5.0}) {
      if (fits(range, times * decade, most)) return multiples(range, times * decade);
    }
  }
}

std::vector<double> hour_ticks(Range range, int most) {
  assert(range.low < range.high && most >= 2);
  for (const double apart_h : {0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0}) {
    if (fits(range, apart_h, most)) return multiples(range, apart_h);
  }
  constexpr double day_h = 24.0;
  std::vector<double> ticks = nice_ticks({range.low / day_h, range.high / day_h}, most);
  for (double& tick : ticks) tick *= day_h;
  return ticks;
}

int decimals_of(const std::vector<double>& ticks) {
  if (ticks.size() < 2) return 0;
  const double apart = ticks[1] - ticks[0];
  return std::max(0, static_cast<int>(std::ceil(-std::log10(apart) - 1e-9)));
}

}  // namespace thickset

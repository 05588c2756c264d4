#include "sampling/spread.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

namespace thickset {
namespace {

double quantile_of_sorted(std::span<const double> sorted, double share) {
  assert(!sorted.empty() && share >= 0.0 && share <= 1.0);
  const double place = share * static_cast<double>(sorted.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  const std::size_t above = std::min(below + 1, sorted.size() - 1);
  return std::lerp(sorted[below], sorted[above], place - std::floor(place));
}

std::vector<double> sorted(std::span<const double> values) {
  std::vector<double> copy{values.begin(), values.end()};
  std::sort(copy.begin(), copy.end());
  return copy;
}

}  // namespace

double Chance::standard_error() const {
  const double n = static_cast<double>(of) + 2.0;
  const double p = (static_cast<double>(kept) + 1.0) / n;
  return std::sqrt(p * (1.0 - p) / n);
}

Chance chance_within(std::span<const double> values, double limit) {
  const auto kept =
      std::count_if(values.begin(), values.end(), [&](double value) { return value <= limit; });
  return {static_cast<std::size_t>(kept), values.size()};
}

double quantile(std::span<const double> values, double share) {
  return quantile_of_sorted(sorted(values), share);
}

NineInTen band_of(std::span<const double> values) {
  const std::vector<double> in_order = sorted(values);
  return {quantile_of_sorted(in_order, 0.05),
          quantile_of_sorted(in_order, 0.5),
          quantile_of_sorted(in_order, 0.95)};
}

}  // namespace thickset

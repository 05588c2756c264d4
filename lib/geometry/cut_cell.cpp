#include "geometry/cut_cell.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace thickset {
namespace {

double square(double x) {
  return x * x;
}

/// Share of a square of side 1 around the origin with a x + b y < e.
double share_of_square(double a, double b, double e) {
  const double low = std::min(std::abs(a), std::abs(b));
  const double high = std::max(std::abs(a), std::abs(b));
  const double from_corner = e + 0.5 * (low + high);
  if (from_corner <= 0.0) return 0.0;
  if (from_corner >= low + high) return 1.0;
  constexpr double as_good_as_parallel = 1e-9;
  if (low < as_good_as_parallel) return std::clamp(from_corner / high, 0.0, 1.0);
  const double beyond_low = std::max(from_corner - low, 0.0);
  const double beyond_high = std::max(from_corner - high, 0.0);
  return (square(from_corner) - square(beyond_low) - square(beyond_high)) / (2.0 * low * high);
}

}  // namespace

CutCell cut_cell(const Eigen::Vector3d& normal, double offset) {
  assert(std::abs(normal.norm() - 1.0) < 1e-6);
  CutCell cell{};
  for (int axis = 0; axis < 3; ++axis) {
    const double across = normal((axis + 1) % 3);
    const double along = normal((axis + 2) % 3);
    auto& open = cell.open[static_cast<std::size_t>(axis)];
    open[0] = share_of_square(across, along, offset + 0.5 * normal(axis));
    open[1] = share_of_square(across, along, offset - 0.5 * normal(axis));
    // volume = 1/3 sum of area times height over the plane's foot, whose own height is 0
    cell.filled +=
        (open[0] * (0.5 + offset * normal(axis)) + open[1] * (0.5 - offset * normal(axis))) / 3.0;
  }
  cell.filled = std::clamp(cell.filled, 0.0, 1.0);
  return cell;
}

}  // namespace thickset

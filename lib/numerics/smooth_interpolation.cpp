#include "numerics/smooth_interpolation.h"

#include <algorithm>
#include <cassert>

namespace thickset {
namespace {

/// Slope at x of the parabola through points i-1, i and i+1.
double parabola_slope(std::span<const double> x,
                      std::span<const double> y,
                      std::size_t i,
                      double at) {
  const double left = (y[i] - y[i - 1]) / (x[i] - x[i - 1]);
  const double right = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  const double curvature = (right - left) / (x[i + 1] - x[i - 1]);
  return left + curvature * (2.0 * at - x[i - 1] - x[i]);
}

}  // namespace

double smooth_value(std::span<const double> x_points, std::span<const double> y_points, double x) {
  assert(x_points.size() >= 3 && x_points.size() == y_points.size());
  const std::size_t last = x_points.size() - 1;
  if (x <= x_points[0]) return y_points[0];
  if (x >= x_points[last]) return y_points[last];

  const auto above = std::upper_bound(x_points.begin(), x_points.end(), x);
  const auto right = static_cast<std::size_t>(above - x_points.begin());
  const std::size_t left = right - 1;
  const auto slope_at = [&](std::size_t i) {
    return parabola_slope(x_points, y_points, std::clamp<std::size_t>(i, 1, last - 1), x_points[i]);
  };

  const double width = x_points[right] - x_points[left];
  const double t = (x - x_points[left]) / width;
  const double s = 1.0 - t;
  return s * s * ((1.0 + 2.0 * t) * y_points[left] + t * width * slope_at(left)) +
         t * t * ((1.0 + 2.0 * s) * y_points[right] - s * width * slope_at(right));
}

}  // namespace thickset

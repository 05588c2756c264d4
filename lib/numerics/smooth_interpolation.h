#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace thickset {

/// Value at `x` of a smooth curve through the points (x_i, y_i), x_i rising, three points or more.
///
/// Cubic pieces; the slope at a point is that of the parabola through it and its two neighbours.
/// Passes through every point and is exact for parabolas, extrema between points included. Below
/// the first and above the last point the curve stays at the end value. Made for smooth computed
/// tables; on scattered data it can overshoot. Source: [DB78] chapter IV, piecewise parabolic
/// (Bessel) slopes.
double smooth_value(std::span<const double> x_points, std::span<const double> y_points, double x);

/// The same in two directions, for values[row][column] at (row_points[row], column_points[column]).
template <std::size_t n_rows, std::size_t n_columns>
double smooth_value(const std::array<double, n_rows>& row_points,
                    const std::array<double, n_columns>& column_points,
                    const std::array<std::array<double, n_columns>, n_rows>& values,
                    double row,
                    double column) {
  std::array<double, n_rows> at_column{};
  for (std::size_t i = 0; i < n_rows; ++i) {
    at_column[i] = smooth_value(column_points, values[i], column);
  }
  return smooth_value(row_points, at_column, row);
}

}  // namespace thickset

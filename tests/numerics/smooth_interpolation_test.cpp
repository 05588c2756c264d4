#include "numerics/smooth_interpolation.h"

#include <array>
#include <cmath>

#include <doctest/doctest.h>

using thickset::smooth_value;

namespace {

constexpr double rounding = 1e-13;  // a dozen operations on numbers near 1
constexpr std::array<double, 5> uneven = {0.0, 0.1, 0.4, 0.5, 1.0};
double parabola(double x) {
  return 2.0 - 3.0 * x + 4.0 * x * x;
}

}  // namespace

TEST_CASE("smooth interpolation: exact for a parabola on uneven points, its minimum included") {
  std::array<double, 5> y{};
  for (std::size_t i = 0; i < uneven.size(); ++i) y[i] = parabola(uneven[i]);
  for (double x = 0.0; x <= 1.0; x += 0.03125) {
    CAPTURE(x);
    CHECK(std::abs(smooth_value(uneven, y, x) - parabola(x)) <= rounding);
  }
}

TEST_CASE("smooth interpolation: keeps the end values outside the table") {
  const std::array<double, 5> y = {1.0, 2.0, 4.0, 8.0, 16.0};
  CHECK(smooth_value(uneven, y, -5.0) == 1.0);
  CHECK(smooth_value(uneven, y, 7.0) == 16.0);
}

TEST_CASE("smooth interpolation: halving the spacing divides the error of a sine by about eight") {
  const auto worst = [](auto points) {
    auto y = points;
    for (std::size_t i = 0; i < points.size(); ++i) {
      points[i] = static_cast<double>(i) / static_cast<double>(points.size() - 1);
      y[i] = std::sin(3.0 * points[i]);
    }
    double error = 0.0;
    for (double x = 0.0; x <= 1.0; x += 1.0 / 512.0) {
      error = std::max(error, std::abs(smooth_value(points, y, x) - std::sin(3.0 * x)));
    }
    return error;
  };
  const double ratio = worst(std::array<double, 17>{}) / worst(std::array<double, 33>{});
  CHECK(ratio > 6.0);  // third order where slopes are of second order: 8 in the limit
  CHECK(ratio < 10.0);
}

TEST_CASE("smooth interpolation: in two directions exact for a product of parabolas") {
  std::array<std::array<double, 5>, 5> values{};
  for (std::size_t i = 0; i < 5; ++i) {
    for (std::size_t j = 0; j < 5; ++j) values[i][j] = parabola(uneven[i]) * (1.0 + uneven[j]);
  }
  for (double x = 0.05; x < 1.0; x += 0.2) {
    for (double y = 0.03; y < 1.0; y += 0.2) {
      CHECK(std::abs(smooth_value(uneven, uneven, values, x, y) - parabola(x) * (1.0 + y)) <=
            10.0 * rounding);
    }
  }
}

#include "geometry/poisson_maximum.h"

#include <cmath>
#include <initializer_list>
#include <limits>
#include <numbers>

#include <doctest/doctest.h>
#include <boost/math/special_functions/bessel.hpp>

using namespace thickset::poisson;

namespace {

constexpr double pi = std::numbers::pi;

bool agrees(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

// Another route to the same number: by Newman's product rule the centre of a block after a step of
// its surface is the product of three slab answers, and u is the integral of that over time.

/// Centre of a slab of half thickness L, time t (diffusivity 1) after a step; [CJ59] chapter 3.
double slab_centre(double t, double L) {
  double sum = 0.0;
  if (t < 0.2 * L * L) {
    for (int k = 0; k < 8; ++k) {
      sum += (k % 2 == 0 ? 1.0 : -1.0) * std::erfc((2 * k + 1) * L / (2.0 * std::sqrt(t)));
    }
    return 1.0 - 2.0 * sum;
  }
  for (int k = 0; k < 8; ++k) {
    const double root = (2 * k + 1) * pi / (2.0 * L);
    sum += (k % 2 == 0 ? 1.0 : -1.0) * std::exp(-root * root * t) / (2 * k + 1);
  }
  return 4.0 / pi * sum;
}

/// Centre of a cylinder of radius 1; [CJ59] chapter 7. Below t = 0.008 it differs from 1 by under
/// 1e-12.
double rod_centre(double t) {
  if (t < 0.008) return 1.0;
  double sum = 0.0;
  for (int k = 1; k <= 24; ++k) {
    const double j = boost::math::cyl_bessel_j_zero(0.0, k);
    sum += 2.0 * std::exp(-j * j * t) / (j * boost::math::cyl_bessel_j(1, j));
  }
  return sum;
}

/// Integral over t from 0 to infinity, by the trapezoid rule in ln t.
template <class Function>
double integral_over_time(Function f) {
  constexpr double step = 0.02;
  double sum = 0.0;
  for (double s = -30.0; s < 6.0; s += step) sum += f(std::exp(s)) * std::exp(s);
  return sum * step;
}
constexpr double integral_error = 1e-9;  // seen by halving the step

constexpr double half_last_digit = 0.6e-6;  // six decimals, one rounding

}  // namespace

// Computed, not published: the series summed by an independent program, six digits; lengths in
// units of the half of the smallest side (of the radius for discs).
TEST_CASE("poisson maximum: rectangles agree with an independent sum of the series") {
  struct Row {
    double ratio, maximum;
  };
  for (const Row& row : {Row{1.0, 0.294685},
                         Row{1.5, 0.403086},
                         Row{2.0, 0.455487},
                         Row{3.0, 0.490730},
                         Row{4.0, 0.498073},
                         Row{5.0, 0.499599}}) {
    CAPTURE(row.ratio);
    CHECK(std::abs(rectangle_maximum_m2(2.0, 2.0 * row.ratio) - row.maximum) <= half_last_digit);
  }
}

TEST_CASE("poisson maximum: blocks agree with an independent sum of the triple sine series") {
  // The other program stopped its slowly falling triple sum after terms that still add 2e-6; the
  // time integral below holds the same blocks to 1e-9.
  constexpr double cut_of_triple_sum = 3e-6;
  struct Row {
    double b, c, maximum;
  };
  for (const Row& row :
       {Row{1, 1, 0.224852}, Row{1, 2, 0.286963}, Row{2, 2, 0.424626}, Row{4, 4, 0.496276}}) {
    CAPTURE(row.b);
    CAPTURE(row.c);
    CHECK(std::abs(block_maximum_m2(2.0, 2.0 * row.b, 2.0 * row.c) - row.maximum) <=
          cut_of_triple_sum);
  }
}

TEST_CASE("poisson maximum: discs agree with an independent sum of the series") {
  struct Row {
    double half_height, maximum;
  };
  for (const Row& row : {Row{0.25, 0.0308798},
                         Row{0.5, 0.101452},
                         Row{1.0, 0.200664},
                         Row{1.5, 0.235000},
                         Row{2.0, 0.245486}}) {
    CAPTURE(row.half_height);
    CHECK(std::abs(disc_maximum_m2(2.0, 2.0 * row.half_height) - row.maximum) <= half_last_digit);
  }
}

TEST_CASE("poisson maximum: slab, rod, ball and triangle are the closed forms") {
  constexpr double rounding = 1e-15;
  CHECK(agrees(slab_maximum_m2(2.0), 0.5, rounding));        // L^2/2
  CHECK(agrees(rod_maximum_m2(2.0), 0.25, rounding));        // R^2/4
  CHECK(agrees(ball_maximum_m2(2.0), 1.0 / 6.0, rounding));  // R^2/6
  CHECK(agrees(triangle_maximum_m2(6.0), 1.0, rounding));    // s^2/36
}

TEST_CASE("poisson maximum: blocks equal the time integral of the product of three slabs") {
  struct Row {
    double b, c;
  };
  for (const Row& row : {Row{1, 1}, Row{1.1, 3}, Row{2, 2}, Row{1, 30}, Row{20, 20}, Row{5, 100}}) {
    CAPTURE(row.b);
    CAPTURE(row.c);
    const double expected = integral_over_time([&](double t) {
      return slab_centre(t, 1.0) * slab_centre(t, row.b) * slab_centre(t, row.c);
    });
    CHECK(agrees(block_maximum_m2(2.0, 2.0 * row.b, 2.0 * row.c), expected, integral_error));
  }
}

TEST_CASE("poisson maximum: discs equal the time integral of slab times rod") {
  for (const double half_height : {0.05, 0.3, 0.999, 1.0, 1.001, 3.0}) {
    CAPTURE(half_height);
    const double expected =
        integral_over_time([&](double t) { return rod_centre(t) * slab_centre(t, half_height); });
    CHECK(agrees(disc_maximum_m2(2.0, 2.0 * half_height), expected, integral_error));
  }
}

TEST_CASE("poisson maximum: extreme aspect ratios end at the slab, the rectangle and the rod") {
  constexpr double rounding = 1e-14;
  for (const double ratio : {30.0, 100.0, 1e4}) {  // the rest is exp(-pi 30 / 2) = 3e-21
    CAPTURE(ratio);
    CHECK(agrees(rectangle_maximum_m2(1.0, ratio), slab_maximum_m2(1.0), rounding));
    CHECK(agrees(block_maximum_m2(1.0, ratio, 1.5 * ratio), slab_maximum_m2(1.0), rounding));
    CHECK(agrees(block_maximum_m2(1.0, 1.3, ratio), rectangle_maximum_m2(1.0, 1.3), rounding));
    CHECK(agrees(disc_maximum_m2(ratio, 1.0), slab_maximum_m2(1.0), rounding));
    CHECK(agrees(disc_maximum_m2(1.0, ratio), rod_maximum_m2(1.0), rounding));
  }
}

TEST_CASE("poisson maximum: the order of the sides does not matter") {
  const double one_order = block_maximum_m2(0.07, 0.11, 0.2);
  CHECK(block_maximum_m2(0.2, 0.07, 0.11) == one_order);
  CHECK(block_maximum_m2(0.11, 0.2, 0.07) == one_order);
  CHECK(rectangle_maximum_m2(0.07, 0.2) == rectangle_maximum_m2(0.2, 0.07));
}

TEST_CASE("poisson maximum: a slab between walls") {
  constexpr double rounding = 1e-14;
  constexpr double insulated = std::numeric_limits<double>::infinity();
  CHECK(agrees(walled_slab_maximum_m2(2.0, 0.0, 0.0), slab_maximum_m2(2.0), rounding));
  // the same wall on both sides: d^2/8 + d l/2
  CHECK(agrees(walled_slab_maximum_m2(2.0, 0.3, 0.3), 0.5 + 0.3, rounding));
  // one face insulated: half of a slab of twice the thickness
  CHECK(agrees(walled_slab_maximum_m2(2.0, insulated, 0.0), slab_maximum_m2(4.0), rounding));
  CHECK(agrees(walled_slab_maximum_m2(2.0, 0.4, insulated), 2.0 + 0.8, rounding));
  CHECK(std::isinf(walled_slab_maximum_m2(2.0, insulated, insulated)));
  // a very thick wall insulates
  CHECK(agrees(walled_slab_maximum_m2(2.0, 1e9, 0.1), 2.0 + 0.2, 1e-8));
  CHECK(agrees(
      walled_slab_maximum_m2(2.0, 0.1, 0.7), walled_slab_maximum_m2(2.0, 0.7, 0.1), rounding));
}

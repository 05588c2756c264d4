#include "geometry/area_growth.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double rounding = 1e-12;

Length mm(double length_mm) {
  return Length::from_mm(length_mm);
}

/// Area at this distance over the area of the shape.
double grown(const Shape& shape, double t_m) {
  const AreaGrowth growth = area_growth(shape);
  return 1.0 + growth.per_m * t_m + growth.per_m2 * t_m * t_m;
}

}  // namespace

// The surfaces at a distance t, put together from faces, quarters of cylinders, quarters of tori
// and pieces of balls; elementary.
TEST_CASE("area growth: the surface at a distance is the sum of its pieces") {
  constexpr double a = 0.06, b = 0.09, c = 0.15;
  for (const double t : {0.0, 0.001, 0.025, 0.3}) {
    CAPTURE(t);
    CHECK(grown(Slab{mm(60)}, t) == 1.0);
    CHECK(std::abs(grown(Rod{mm(60)}, t) - (0.03 + t) / 0.03) <= rounding * (1.0 + t / 0.03));
    CHECK(std::abs(grown(Ball{mm(60)}, t) - std::pow((0.03 + t) / 0.03, 2)) <= 1e-10);
    const double faces = 2.0 * (a * b + b * c + c * a);
    const double edges = 4.0 * (a + b + c) * (0.5 * pi * t);
    const double corners = 4.0 * pi * t * t;
    CHECK(std::abs(grown(Block{mm(60), mm(90), mm(150)}, t) - (faces + edges + corners) / faces) <=
          1e-10);
    CHECK(std::abs(grown(Bar{mm(60), mm(90)}, t) - (0.30 + 2.0 * pi * t) / 0.30) <= rounding * 100);
    CHECK(std::abs(grown(Prism{mm(80)}, t) - (0.24 + 2.0 * pi * t) / 0.24) <= rounding * 100);
    constexpr double R = 0.1, h = 0.04;
    const double disc = 2.0 * pi * R * R + 2.0 * pi * R * h;
    const double rims = 2.0 * (2.0 * pi * t) * (0.5 * pi * R + t);
    const double around = 2.0 * pi * R * R + 2.0 * pi * (R + t) * h;
    CHECK(std::abs(grown(Disc{mm(200), mm(40)}, t) - (around + rims) / disc) <= 1e-10);
  }
}

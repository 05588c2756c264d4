#include "conduction/body.h"

#include <cmath>
#include <initializer_list>

#include <doctest/doctest.h>

#include "conduction/series.h"
#include "conduction/unit_body.h"

using namespace thickset::conduction;
using namespace unit_body;

namespace {

constexpr double rounding = 1e-12;  // thin cells are differences of cubes, divided by spacing^2

double power(Solid solid) {
  return solid == Solid::slab ? 0.0 : solid == Solid::cylinder ? 1.0 : 2.0;
}

}  // namespace

TEST_CASE("body: the cells fill the solid, volume over surface is L, R/2 and R/3") {
  for (const Solid solid : solids)
    for (const Eigen::Index n : {3, 4, 20, 21}) {
      CAPTURE(name(solid));
      CAPTURE(n);
      const Body body = constant_body(solid, n);
      const double expected_m = extent_m / (1.0 + power(solid));
      CHECK(std::abs(body.volume_m().sum() - expected_m) <= rounding * expected_m);
      CHECK((body.volume_m() > 0.0).all());
      CHECK(body.extent_m() == extent_m);
      CHECK(body.position_m()(0) == 0.0);
    }
}

TEST_CASE("body: only a slab has an inner face") {
  CHECK(constant_body(Solid::slab, 5).inner_area() == 1.0);
  CHECK(constant_body(Solid::cylinder, 5).inner_area() == 0.0);
  CHECK(constant_body(Solid::sphere, 5).inner_area() == 0.0);
}

TEST_CASE("body: the mean of 1, x^2 and (slab) x is exact for odd and even node counts") {
  for (const Solid solid : solids)
    for (const Eigen::Index n : {3, 4, 5, 6, 10, 11, 20, 21, 80, 81}) {
      CAPTURE(name(solid));
      CAPTURE(n);
      const Body body = constant_body(solid, n);
      const Eigen::ArrayXd x = body.position_m() / extent_m;
      const double p = power(solid);
      CHECK(std::abs(body.mean(Eigen::ArrayXd::Ones(n)) - 1.0) <= rounding);
      CHECK(std::abs(body.mean(x.square()) - (p + 1.0) / (p + 3.0)) <= rounding);
      CHECK(std::abs(body.mean(x) - (p + 1.0) / (p + 2.0)) <= rounding);
      CHECK(std::abs(body.mean(3.0 - 7.0 * x.square()) - (3.0 - 7.0 * (p + 1.0) / (p + 3.0))) <=
            10.0 * rounding);
    }
}

TEST_CASE("body: the mean of a cosine-like profile has at least third order") {
  for (const Solid solid : solids)
    for (const Eigen::Index n : {11, 12}) {
      CAPTURE(name(solid));
      CAPTURE(n);
      const double z = 2.0;
      const auto error = [&](Eigen::Index nodes) {
        const Body body = constant_body(solid, nodes);
        Eigen::ArrayXd profile{nodes};
        for (Eigen::Index i = 0; i < nodes; ++i) {
          profile(i) = series::mode(solid, z * body.position_m()(i) / extent_m);
        }
        return std::abs(body.mean(profile) - series::mode_mean(solid, z));
      };
      constexpr double worst = 1e-4;
      CHECK(error(n) <= worst);
      // Twice (n - 1) intervals keeps an even number of intervals; 2n nodes an odd one.
      const double finer = error(n % 2 == 1 ? 2 * n - 1 : 2 * n);
      constexpr double third_order = 7.0;  // 2^3 less what higher terms take
      CHECK(error(n) >= third_order * finer);
    }
}

TEST_CASE("body: conduction into each cell of the steady parabola is its share of the volume") {
  // T = x^2 with k = 1: heat in = integral of the Laplacian, 2 (p + 1) per volume.
  for (const Solid solid : solids) {
    CAPTURE(name(solid));
    const Body body = constant_body(solid, 12);
    const Eigen::ArrayXd T = body.position_m().square();
    for (Eigen::Index i = 0; i + 1 < body.nodes(); ++i) {
      const double from_outside = body.area_by_spacing_per_m()(i) * (T(i + 1) - T(i));
      const double from_inside =
          i > 0 ? body.area_by_spacing_per_m()(i - 1) * (T(i) - T(i - 1)) : 0.0;
      const double expected = 2.0 * (power(solid) + 1.0) * body.volume_m()(i);
      CHECK(std::abs(from_outside - from_inside - expected) <= 10.0 * rounding * extent_m);
    }
  }
}

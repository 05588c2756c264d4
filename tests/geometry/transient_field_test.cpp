#include "geometry/transient_field.h"

#include "geometry/poisson_maximum.h"
#include "geometry/solid_regions.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

using namespace thickset;
using namespace solid_regions;
using transient_field::slab_share;
using transient_field::TransientField;

namespace {

constexpr double pi = std::numbers::pi;

/// Centre of a slab of thickness 1 after a step of its surface; [CJ59] section 3.3.
double step_of_slab(double t_m2) {
  double sum = 0.0;
  for (int k = 0; k < 200; ++k) {
    const double root = (2 * k + 1) * pi;
    sum += (k % 2 == 0 ? 1.0 : -1.0) * std::exp(-root * root * t_m2) / (2 * k + 1);
  }
  return 4.0 / pi * sum;
}

/// Centre of a cube of side 1 under a steady rate: the integral of the product of three steps.
double ramp_of_cube_m2(double t_m2) {
  constexpr int parts = 2000;
  double sum = 0.0;
  for (int i = 0; i < parts; ++i) sum += std::pow(step_of_slab(t_m2 * (i + 0.5) / parts), 3);
  return sum * t_m2 / parts;
}

}  // namespace

TEST_CASE("transient field: a cube follows the product of three slabs into steady cooling") {
  constexpr double dt_m2 = 0.002;
  TransientField cube{box(1, 1, 1), {}, 21.0 * 21.0 * 21.0, dt_m2};  // a node in the middle
  const double steady_m2 = poisson::block_maximum_m2(1, 1, 1);
  constexpr double of_steady = 0.008;  // 21 cells across, steps of a sixteenth of the time constant
  for (int step = 1; step <= 80; ++step) {
    cube.step();
    if (step % 10 != 0) continue;
    CAPTURE(step);
    CHECK(std::abs(cube.largest_m2() - ramp_of_cube_m2(step * dt_m2)) < of_steady * steady_m2);
  }
  CHECK(std::abs(cube.largest_m2() - steady_m2) < 0.02 * steady_m2);
}

TEST_CASE("transient field: the slab's share is its series") {
  CHECK(slab_share(10.0, 1.0) == 1.0);
  CHECK(std::abs(slab_share(0.0, 1.0)) < 1e-4);
  // early the centre does not know of the surface yet: it lags by all of the fall
  CHECK(std::abs(slab_share(0.01, 1.0) - 0.08) < 1e-3);
}

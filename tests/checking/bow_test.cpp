#include <cmath>

#include <doctest/doctest.h>

#include "checking/bow.h"
#include "simulation/example_walls.h"
#include "stress/relaxing_run.h"

using namespace thickset;
using namespace thickset::example;
using relaxing::Case;

namespace {

/// Glass far below the transition, one face cooled: nothing relaxes.
Case cold_plate() {
  Case plate;
  plate.extent_m = 0.06;
  plate.symmetric = false;
  return plate;
}

struct Bent {
  double steady_per_m, left_per_m;
};

/// A ramp from 250 C long enough to be steady, then even.
Bent bent_by(const Case& c, double rate_K_per_s) {
  const double time_constant_s = c.extent_m * c.extent_m * 1100.0 * 2500.0 / 1.2 * 4.0 / 9.87;
  const double ramp_s = 8.0 * time_constant_s;
  const AirCurve air{{{0.0, 523.15, 0},
                      {ramp_s, 523.15 - rate_K_per_s * ramp_s, 0},
                      {4.0 * ramp_s, 523.15 - rate_K_per_s * ramp_s, 1}}};
  const conduction::Body body{
      c.solid, c.extent_m, c.nodes, c.conductivity, c.heat_capacity, c.density_kg_per_m3};
  const Eigen::ArrayXd start_K = Eigen::ArrayXd::Constant(c.nodes, 523.15);
  conduction::Solver solver{
      body, conduction::Face::insulated(), c.outer, air, start_K, {.tolerance_K = c.tolerance_K}};
  stress::RelaxingBody glass{body, c.law, c.constants, c.support, c.symmetric, start_K};
  Bent bent{};
  while (solver.advance()) {
    glass.advance({.before_K = solver.T_before_K(),
                   .after_K = solver.T_K(),
                   .slope_before_K_per_s = solver.slope_before_K_per_s(),
                   .slope_after_K_per_s = solver.slope_K_per_s(),
                   .dt_s = solver.time_s() - solver.before_s()});
    if (solver.time_s() <= ramp_s) bent.steady_per_m = glass.curvature_per_m();
    bent.left_per_m = glass.curvature_per_m();
  }
  return bent;
}

const Program slow_then_quick = [] {
  Program program;
  program.steps.push_back(
      {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hours(8.0)});
  program.steps.push_back({.target = Temperature::from_C(350.0), .pace = Rate::from_K_per_h(4.0)});
  program.steps.push_back({.target = Temperature::from_C(40.0), .pace = Rate::from_K_per_h(30.0)});
  return program;
}();

std::optional<Bow> bow_of(const Casting& casting) {
  return bow(casting,
             measure(casting, kiln(), Controller::LateOnCooling::waits, slow_then_quick, {}));
}

}  // namespace

// [BW60] 9.4: curvature 12 alpha / d^3 integral T (x - d/2) dx; of T = (R / 2 kappa)(d^2 - x^2):
// -alpha R d / (2 kappa). The cold face is the shorter one: hollow.
TEST_CASE("bow: an elastic plate steadily cooled from one face curves by alpha R d / (2 kappa)") {
  const double rate_K_per_s = 20.0 / 3600.0;
  const double closed_per_m = 9.2e-6 * rate_K_per_s * 0.06 / (2.0 * 1.2 / (1100.0 * 2500.0));
  const Bent bent = bent_by(cold_plate(), rate_K_per_s);
  constexpr double of_steady =
      0.002;  // eight time constants leave e^-8, 21 nodes less than the rest
  CHECK(std::abs(bent.steady_per_m / -closed_per_m - 1.0) < of_steady);
  CHECK(std::abs(bent.left_per_m) < 1e-3 * closed_per_m);
}

TEST_CASE("bow: half the thickness curves half as much, half the rate too") {
  const Case plate = cold_plate();
  Case thin = plate;
  thin.extent_m = 0.03;
  const double whole = bent_by(plate, 0.005).steady_per_m;
  CHECK(std::abs(bent_by(thin, 0.005).steady_per_m / whole - 0.5) < 0.002);
  CHECK(std::abs(bent_by(plate, 0.0025).steady_per_m / whole - 0.5) < 0.002);
}

TEST_CASE("bow: none where both faces cool alike, or the slab is held flat") {
  Case held = cold_plate();
  held.support = stress::Support::held;
  CHECK(bent_by(held, 0.005).steady_per_m == 0.0);
  Case both = cold_plate();
  both.symmetric = true;
  CHECK(bent_by(both, 0.005).steady_per_m == 0.0);

  CHECK_FALSE(bow_of(slab_of_mm(60.0)));
  CHECK_FALSE(bow_of(of_shape(Slab{Length::from_mm(60.0), Faces::one_held})));
  CHECK_FALSE(bow_of(of_shape(Rod{Length::from_mm(60.0)})));
  CHECK_FALSE(bow_of(in_plaster(slab_of_mm(60.0), 25.0)));
  CHECK_FALSE(bow_of(on_plaster(slab_of_mm(60.0), 25.0, true)));
}

TEST_CASE("bow: like walls on a slab taken whole leave it flat") {
  // A wall that differs by a hair, so that the slab is solved whole.
  Casting casting = in_plaster(slab_of_mm(60.0), 25.0);
  casting.walls->bottom = plaster(25.001);
  casting.walls->held = false;
  const std::optional<Bow> even = bow_of(casting);
  const std::optional<Bow> uneven = bow_of(on_plaster(slab_of_mm(60.0), 25.0, false));
  REQUIRE(even);
  REQUIRE(uneven);
  CHECK(std::abs(even->largest_per_m) < 0.01 * uneven->largest_per_m);
}

TEST_CASE("bow: the face that cools is hollow in the run-out, and nearly flat again in the end") {
  const std::optional<Bow> bows = bow_of(of_shape(Slab{Length::from_mm(60.0), Faces::one_free}));
  REQUIRE(bows);
  // 30 K/h at the properties of 200 C, within the range that they vary over
  const double kappa_m2_per_s = slab_of_mm(60.0).glass.diffusivity_m2_per_s(473.0);
  const double closed_per_m = 9.0e-6 * 30.0 / 3600.0 * 0.06 / (2.0 * kappa_m2_per_s);
  CHECK(bows->largest_per_m > 0.8 * closed_per_m);
  CHECK(bows->largest_per_m < 1.2 * closed_per_m);
  CHECK(bows->largest_at_s > 8.0 * 3600.0);
  CHECK(std::abs(bows->left_per_m) < 0.1 * bows->largest_per_m);
}

TEST_CASE("bow: a metre that bows by 1/500 per metre stands off by a quarter of a millimetre") {
  CHECK(std::abs(deflection_m(0.002, 1.0) - 0.25e-3) < 1e-15);
  CHECK(std::abs(deflection_m(0.002, 0.5) - 0.25e-3 / 4.0) < 1e-15);
}

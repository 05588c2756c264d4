#include "simulation/section.h"

#include <cmath>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "simulation/simulate.h"

using namespace thickset;

namespace {

AirCurve straight(double from_C, double to_C, double hours) {
  // A corner each hour: time steps end there.
  AirCurve air{{{0.0, from_C + 273.15, -1}}};
  for (double hour = 1.0; hour <= hours; hour += 1.0) {
    air.corners.push_back({3600.0 * hour, from_C + (to_C - from_C) * hour / hours + 273.15, 0});
  }
  return air;
}

}  // namespace

TEST_CASE("section: its ends are the core and the surface of the history at the same moment") {
  const Kiln kiln = example::kiln();
  const Temperature start = Temperature::from_C(500.0);
  const AirCurve air = straight(500.0, 300.0, 20.0);
  for (const Shape& shape : {Shape{Slab{Length::from_mm(60.0)}},
                             Shape{Slab{Length::from_mm(60.0), Faces::one_free}},
                             Shape{Ball{Length::from_mm(90.0)}},
                             Shape{Bar{Length::from_mm(60.0), Length::from_mm(90.0)}}}) {
    const Casting casting = example::of_shape(shape);
    const History history = simulate(casting, kiln, air, start, Respect::steady_difference);
    const History::Row& row = history.at(10.0 * 3600.0);
    const Section section =
        section_at(casting, kiln, air, start, Respect::steady_difference, row.time_s);
    CHECK(section.time_s == row.time_s);
    REQUIRE(section.position_m.size() == section.T_K.size());
    CHECK(section.position_m.front() == 0.0);
    CHECK(section.T_K.front() == row.centre_K);
    CHECK(section.T_K.back() == row.surface_K);
  }
}

TEST_CASE("section: steady cooling leaves the parabola R (L^2 - x^2) / 2 kappa") {
  Casting casting = example::slab_of_mm(60.0);
  casting.glass.conductivity_W_per_m_K.value = ThermalLaw::constant(1.0);
  casting.glass.heat_capacity_J_per_kg_K.value = ThermalLaw::constant(1000.0);
  const double kappa_m2_per_s = casting.glass.diffusivity_m2_per_s(600.0);
  constexpr double half_m = 0.03;
  const auto at = [&](double hour) {
    return section_at(casting,
                      example::kiln(),
                      straight(500.0, 300.0, 20.0),
                      Temperature::from_C(500.0),
                      Respect::steady_difference,
                      3600.0 * hour);
  };
  const Section before = at(15.0), section = at(16.0), after = at(17.0);
  // Its own rate: the exchange changes with temperature, so the glass falls behind the kiln.
  const double rate_K_per_s =
      (before.T_K.front() - after.T_K.front()) / (after.time_s - before.time_s);
  constexpr double nearly_steady = 5e-3;  // of the difference; the rate still changes a little
  const double difference_K = section.T_K.front() - section.T_K.back();
  REQUIRE(difference_K > 2.0);
  for (std::size_t i = 0; i < section.T_K.size(); ++i) {
    const double x_m = section.position_m[i];
    const double parabola_K = rate_K_per_s * (half_m * half_m - x_m * x_m) / (2.0 * kappa_m2_per_s);
    CHECK(std::abs(section.T_K[i] - section.T_K.back() - parabola_K) <=
          nearly_steady * difference_K);
  }
}

TEST_CASE("section: a time beyond the firing gives its end") {
  const Section section = section_at(example::slab_of_mm(40.0),
                                     example::kiln(),
                                     straight(500.0, 400.0, 2.0),
                                     Temperature::from_C(500.0),
                                     Respect::steady_difference,
                                     1e9);
  CHECK(section.time_s == doctest::Approx(7200.0));
}

TEST_CASE("section: only unlike faces are drawn from face to face") {
  const Kiln kiln = example::kiln();
  CHECK(both_sides_alike(example::slab_of_mm(40.0), kiln));
  CHECK(both_sides_alike(example::of_shape(Ball{Length::from_mm(40.0)}), kiln));
  CHECK_FALSE(
      both_sides_alike(example::of_shape(Slab{Length::from_mm(40.0), Faces::one_held}), kiln));
}

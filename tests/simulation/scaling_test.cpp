#include <cmath>

#include <doctest/doctest.h>

#include "checking/random_casting.h"
#include "geometry/scaled_shape.h"
#include "simulation/simulate.h"

using namespace thickset;

namespace {

/// Its glass takes the kiln's temperature at the surface.
Kiln holding_the_surface() {
  Kiln kiln = example::kiln();
  kiln.film_coefficient_W_per_m2_K = 1e9;
  kiln.emissivity = 0.0;
  return kiln;
}

/// One rate from glass that is relaxed to the room, and a wait that evens it out.
AirCurve one_rate(Temperature start, Rate rate, double wait_s) {
  AirCurve air;
  const double end_K = Temperature::from_C(20.0).in_K();
  const double fall_s = (start.in_K() - end_K) / rate.in_K_per_s();
  air.corners = {{0.0, start.in_K(), 0}, {fall_s, end_K, 0}, {fall_s + wait_s, end_K, 0}};
  return air;
}

/// Straight between the ends of two time steps.
double at(const History& history, double time_s, double History::Row::*value) {
  const History::Row* before = &history.rows.front();
  for (const History::Row& row : history.rows) {
    if (row.time_s >= time_s) {
      if (row.time_s == before->time_s) return row.*value;
      const double share = (time_s - before->time_s) / (row.time_s - before->time_s);
      return before->*value + share * (row.*value - before->*value);
    }
    before = &row;
  }
  return history.rows.back().*value;
}

}  // namespace

TEST_CASE("scaling: twice the thickness at a quarter of the rate is the same, later") {
  constexpr double gentle_K_per_h_cm2 = 125.0;  // R L^2; the permanent stress scales up to here
  const Kiln kiln = holding_the_surface();
  example::Chance chance{20261127};
  // With the usual settings their own error, up to 0.8 % where a law has a corner at the
  // transition, is added on both sides.
  constexpr SimulationSettings fine{.tolerance_K = 0.005, .nodes = 41};
  const int samples = example::samples(20);
  for (int i = 0; i < samples; ++i) {
    const Casting thin_one = example::some_casting(chance);
    Casting thick_one = thin_one;
    thick_one.shape = scaled(thin_one.shape, 2.0);
    CAPTURE(example::described(thin_one, kiln));
    const EquivalentSlabs slabs = equivalent_slabs(thin_one.shape);
    const double half_cm = 50.0 * slabs.steady_difference.in_m();
    const double R = chance.between(0.2, 1.0) * gentle_K_per_h_cm2 / (half_cm * half_cm);
    CAPTURE(R);
    const Temperature start =
        thin_one.glass.annealing_point.value + TemperatureDifference::from_K(107.0);
    const double wait_s = 3600.0 * half_cm * half_cm;
    const History thin = simulate(thin_one,
                                  kiln,
                                  one_rate(start, Rate::from_K_per_h(R), wait_s),
                                  start,
                                  Respect::steady_difference,
                                  fine);
    const History thick = simulate(thick_one,
                                   kiln,
                                   one_rate(start, Rate::from_K_per_h(0.25 * R), 4.0 * wait_s),
                                   start,
                                   Respect::steady_difference,
                                   fine);
    const double fall_s = (start.in_K() - Temperature::from_C(20.0).in_K()) / R * 3600.0;
    for (int part = 1; part <= 20; ++part) {
      const double time_s = fall_s * part / 20.0;
      CAPTURE(part);
      // Of the time steps, and of straight lines between their ends.
      constexpr double tolerance_K = 0.1;
      const auto differ = [&](double History::Row::*value) {
        return std::abs(at(thick, 4.0 * time_s, value) - at(thin, time_s, value));
      };
      CHECK(differ(&History::Row::centre_K) <= tolerance_K);
      // What that is of the elastic stress: E alpha / (1 - nu) times it.
      const double stress_Pa = thin_one.glass.biaxial_stress_Pa_per_K() * tolerance_K;
      CHECK(differ(&History::Row::elastic_surface_Pa) <= stress_Pa);
    }
    CHECK(thick.rows.back().centre_Pa == doctest::Approx(thin.rows.back().centre_Pa).epsilon(0.01));
    CHECK(thin.rows.back().centre_Pa > 0.0);
  }
}

#include "stress/elastic.h"

#include <cmath>

#include <doctest/doctest.h>

#include "conduction/body.h"
#include "material/thermal_law.h"

using namespace thickset;
using conduction::Body;
using conduction::Solid;
using stress::elastic_stress;
using stress::Support;

namespace {

constexpr double round_off = 1e-9;  // of the largest stress: sums of a few dozen doubles

Body body_of(Solid solid, double extent_m, Eigen::Index nodes = 21) {
  return {solid, extent_m, nodes, ThermalLaw::constant(1.0), ThermalLaw::constant(1000.0), 2500.0};
}

/// The steady profile of uniform cooling: R (a^2 - r^2) / (2 p kappa), p = 1, 2, 3.
Eigen::ArrayXd steady_profile(const Body& body, double rate_by_diffusivity_K_per_m2) {
  const double p = body.solid() == Solid::slab ? 1.0 : body.solid() == Solid::cylinder ? 2.0 : 3.0;
  const double a = body.extent_m();
  return rate_by_diffusivity_K_per_m2 * (a * a - body.position_m().square()) / (2.0 * p);
}

}  // namespace

// [BW60] 9.6, 9.10, 9.13; [TG70] art. 150-152: surface and centre stress of a body cooling
// steadily, in units of E alpha R a^2 / (kappa (1 - nu)).
TEST_CASE("steady cooling stresses slab, rod and ball as elasticity's closed forms say") {
  struct Row {
    Solid solid;
    double surface, centre;
  };
  constexpr Row rows[] = {{Solid::slab, 1.0 / 3.0, 1.0 / 6.0},
                          {Solid::cylinder, 1.0 / 8.0, 1.0 / 8.0},
                          {Solid::sphere, 1.0 / 15.0, 1.0 / 15.0}};
  for (const Row& row : rows) {
    for (const Eigen::Index nodes : {11, 20, 21}) {
      CAPTURE(static_cast<int>(row.solid));
      CAPTURE(nodes);
      const Body body = body_of(row.solid, 0.05, nodes);
      const double unit_Pa = 0.8e6 * 3.0e4 * 0.05 * 0.05;
      const auto stress =
          elastic_stress(body, steady_profile(body, 3.0e4), 0.8e6, Support::free, true);
      CHECK(std::abs(stress.surface_Pa / unit_Pa - row.surface) <= round_off);
      CHECK(std::abs(stress.largest_tension_Pa / unit_Pa - row.surface) <= round_off);
      CHECK(std::abs(stress.largest_compression_Pa / unit_Pa - row.centre) <= round_off);
    }
  }
}

// Computed from the closed forms above (k 1.0, rho 2500, cp 1000, E 70 GPa, nu 0.22, alpha 9e-6):
// 50 mm slab at 20 K/h has 2.337 MPa at its surface, 1.169 MPa at its centre.
TEST_CASE("a 50 mm slab cooling at 20 K/h pulls 2.337 MPa at its surface") {
  const Body body = body_of(Solid::slab, 0.025);
  const double biaxial_Pa_per_K = 70e9 * 9e-6 / (1.0 - 0.22);
  const auto stress = elastic_stress(
      body, steady_profile(body, 20.0 / 3600.0 / 4.0e-7), biaxial_Pa_per_K, Support::free, true);
  constexpr double half_last_printed_digit_MPa = 0.5e-5;
  CHECK(std::abs(stress.surface_Pa * 1e-6 - 2.33707) <= half_last_printed_digit_MPa);
  CHECK(std::abs(stress.largest_compression_Pa * 1e-6 - 1.16854) <= half_last_printed_digit_MPa);
}

// [BW60]: a free slab with one cooled face keeps only what is neither mean nor linear.
TEST_CASE("a slab cooled from one face has the stress of one cooled from both when free to bend") {
  const double thickness_m = 0.06;
  const Body both = body_of(Solid::slab, 0.5 * thickness_m, 41);
  const Body one = body_of(Solid::slab, thickness_m, 81);
  const auto two_sided = elastic_stress(both, steady_profile(both, 2e4), 1e6, Support::free, true);
  const Eigen::ArrayXd profile = steady_profile(one, 2e4);
  const auto bends = elastic_stress(one, profile, 1e6, Support::free, false);
  const auto held = elastic_stress(one, profile, 1e6, Support::held, false);
  CHECK(std::abs(bends.surface_Pa / two_sided.surface_Pa - 1.0) <= round_off);
  CHECK(std::abs(bends.largest_compression_Pa / two_sided.largest_compression_Pa - 1.0) <=
        round_off);
  CHECK(std::abs(held.surface_Pa / two_sided.surface_Pa - 4.0) <= round_off);
}

TEST_CASE("an even body has no thermal stress whatever its temperature") {
  for (const Solid solid : {Solid::slab, Solid::cylinder, Solid::sphere}) {
    const Body body = body_of(solid, 0.04);
    const auto stress =
        elastic_stress(body, Eigen::ArrayXd::Constant(21, 700.0), 1e6, Support::free, true);
    constexpr double round_off_Pa = 1e-3;
    CHECK(std::abs(stress.surface_Pa) <= round_off_Pa);
    CHECK(stress.largest_tension_Pa <= round_off_Pa);
    CHECK(stress.largest_compression_Pa <= round_off_Pa);
  }
}

TEST_CASE("a heated body is pulled at its centre, not at its surface") {
  const Body body = body_of(Solid::slab, 0.05);
  const auto stress = elastic_stress(body, -steady_profile(body, 1e4), 1e6, Support::free, true);
  CHECK(stress.surface_Pa < 0.0);
  CHECK(std::abs(stress.largest_tension_Pa / (1e6 * 1e4 * 0.05 * 0.05 / 6.0) - 1.0) <= round_off);
}

// Largest (mean - surface)/(initial difference) of a chilled slab against Biot number, from a
// 400-term series (computed, not published); Manson's fit [MAN54] is within 6 % of it up to
// Biot 20.
TEST_CASE("Manson's fit of the chilled slab is within 6 % of the series up to Biot 20") {
  struct Row {
    double biot, fraction;
  };
  constexpr Row rows[] = {{0.1, 0.0309},
                          {0.2, 0.0582},
                          {0.5, 0.1256},
                          {1.0, 0.2083},
                          {2.0, 0.3166},
                          {5.0, 0.4778},
                          {10.0, 0.5935},
                          {20.0, 0.6928}};
  for (const Row& row : rows) {
    CAPTURE(row.biot);
    const double tension_Pa = stress::opening_tension_Pa(1e6, row.biot, 100.0);
    CHECK(std::abs(tension_Pa / (1e8 * row.fraction) - 1.0) <= 0.06);
  }
  CHECK(stress::opening_tension_Pa(1e6, 1.0, -5.0) == 0.0);
}

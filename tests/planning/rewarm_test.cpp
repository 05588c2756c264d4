#include "planning/rewarm.h"

#include <algorithm>
#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "planning/reanneal.h"
#include "relaxation/structure.h"
#include "schedule/read_controller.h"

using namespace thickset;

namespace {

Controller tenths() {
  return read_controller(example::data_path("controllers/twenty-steps-by-rate.controller"));
}

Retardation seen(double nm_per_cm) {
  return Retardation::from_nm_per_cm(nm_per_cm);
}

Rewarm rewarm_of(double thickness_mm, double nm_per_cm, double tension_MPa = 3.0) {
  const Casting casting = example::slab_of_mm(thickness_mm);
  Limits limits;
  limits.tension = Stress::from_MPa(tension_MPa);
  return plan_rewarm(casting,
                     example::kiln(),
                     tenths(),
                     {},
                     limits,
                     seen(nm_per_cm),
                     casting.glass.annealing_point.value);
}

}  // namespace

TEST_CASE("rewarm: what a reading says is there, and the heating, stay within the limit together") {
  for (const double thickness_mm : {25.0, 50.0, 100.0}) {
    CAPTURE(thickness_mm);
    const Rewarm plan = rewarm_of(thickness_mm, 40.0);
    CHECK(plan.existing_Pa * 1e-6 == doctest::Approx(40.0 / 27.0));  // C 2.7 1/TPa
    CHECK(!plan.existing_over);
    CHECK(plan.peak_Pa <= 3e6);
    CHECK(plan.peak_Pa >= 2.9e6);  // and no slower than it must be
  }
}

// Steady heating: the centre of a slab is pulled by E alpha/(1 - nu) R L^2/(6 kappa), half of what
// the surface of a cooling one is. Source: [TG70], as notes/stress.md has it for cooling.
TEST_CASE("rewarm: the rate is that of the closed form, at the least diffusivity on the way") {
  const Casting casting = example::slab_of_mm(75.0);
  const Rewarm plan = rewarm_of(75.0, 50.0);
  const Glass& glass = casting.glass;
  double slowest_K_per_h = 1e9, quickest_K_per_h = 0.0;
  for (double T_C = 60.0; T_C <= 460.0; T_C += 20.0) {
    const double half_m = 0.0375;
    const double rate_K_per_s = plan.allowed_Pa * 6.0 * glass.diffusivity_m2_per_s(T_C + 273.15) /
                                (glass.biaxial_stress_Pa_per_K() * half_m * half_m);
    slowest_K_per_h = std::min(slowest_K_per_h, 3600.0 * rate_K_per_s);
    quickest_K_per_h = std::max(quickest_K_per_h, 3600.0 * rate_K_per_s);
  }
  const double planned_K_per_h = plan.steps.front().rate.in_K_per_h();
  // The glass goes faster than the kiln: the warmer, the less it is behind.
  CHECK(planned_K_per_h >= 0.93 * slowest_K_per_h);
  CHECK(planned_K_per_h <= 1.03 * quickest_K_per_h);
}

TEST_CASE("rewarm: a piece that holds more is heated more slowly, and thicker by the square") {
  const auto first_rate = [](double mm, double nm_per_cm) {
    return rewarm_of(mm, nm_per_cm).steps.front().rate.in_K_per_h();
  };
  CHECK(first_rate(50.0, 60.0) < first_rate(50.0, 30.0));
  CHECK(first_rate(50.0, 30.0) < first_rate(50.0, 0.0));
  CHECK(first_rate(100.0, 40.0) == doctest::Approx(0.25 * first_rate(50.0, 40.0)).epsilon(0.05));
}

TEST_CASE("rewarm: where the piece holds the limit already, it says so and adds the least share") {
  const Rewarm plan = rewarm_of(50.0, 120.0);
  CHECK(plan.existing_over);
  CHECK(plan.allowed_Pa == doctest::Approx(least_share_added * 3e6));
  CHECK(plan.peak_Pa > 3e6);
  CHECK(!rewarm_of(50.0, 120.0, 7.0).existing_over);
}

// A plate held at one strain in its plane, free across, integrated in small implicit steps: the
// deviators of six branches and a bulk that does not relax. Computed, not published.
TEST_CASE("time_until_left: no sooner than a held plate relaxes, nor much later") {
  const Glass glass = example::slab_of_mm(50.0).glass;
  const RelaxationSpectrum& spectrum = glass.relaxation.spectrum;
  double bulk = spectrum.bulk_forever_GPa;
  for (const double part : spectrum.bulk_GPa) bulk += part;
  const Temperature hold = glass.annealing_point.value;
  const double spectrum_s_per_s =
      std::exp(relaxation::Pace{glass.relaxation}.logarithm(hold.in_K(), hold.in_K()));

  for (const double share : {0.05, 0.01, 0.001}) {
    CAPTURE(share);
    RelaxationSpectrum::Terms in_plane{}, across{};
    constexpr double strain = 1.0;
    double strain_across = 0.0, first = 0.0, time = 0.0, left = 1.0, step = 1e-7;
    while (left > share) {
      // A branch: S = (S_before + 2 G change of the deviator) / (1 + step/tau); across none in all.
      double known = 0.0, per_strain = 0.0;
      const double before = strain_across;
      const double change = time == 0.0 ? strain : 0.0;
      for (std::size_t i = 0; i < in_plane.size(); ++i) {
        const double decay = 1.0 / (1.0 + step / spectrum.shear_s[i]);
        const double twice_G = 2.0 * spectrum.shear_GPa[i] * decay;
        known += across[i] * decay + twice_G * (-2.0 / 3.0 * change - 2.0 / 3.0 * before);
        per_strain += twice_G * 2.0 / 3.0;
      }
      strain_across = -(known + 2.0 * bulk * strain) / (per_strain + bulk);
      double stress = bulk * (2.0 * strain + strain_across);
      for (std::size_t i = 0; i < in_plane.size(); ++i) {
        const double decay = 1.0 / (1.0 + step / spectrum.shear_s[i]);
        const double twice_G = 2.0 * spectrum.shear_GPa[i] * decay;
        const double more = strain_across - before;
        in_plane[i] = in_plane[i] * decay + twice_G * (change - more) / 3.0;
        across[i] = across[i] * decay + twice_G * 2.0 / 3.0 * (more - change);
        stress += in_plane[i];
      }
      if (first == 0.0) first = stress;
      left = stress / first;
      time += step;
      step = std::min(1.02 * step, 1e-3);
    }
    const double stated = in_s(time_until_left(glass, hold, hold, share)) * spectrum_s_per_s;
    CHECK(stated >= 0.98 * time);
    CHECK(stated <= 1.45 * time);
  }
}

TEST_CASE("time_until_left: longer for less left, and for glass frozen at a lower temperature") {
  const Glass glass = example::slab_of_mm(50.0).glass;
  const Temperature hold = glass.annealing_point.value;
  CHECK(time_until_left(glass, hold, hold, 1.5) == Duration{0.0});
  CHECK(time_until_left(glass, hold, hold, 0.01) > time_until_left(glass, hold, hold, 0.05));
  CHECK(time_until_left(glass, hold, glass.strain_point.value, 0.05) >
        time_until_left(glass, hold, hold, 0.05));
}

TEST_CASE(
    "reanneal: heating, hold and tail are one program, which leaves the grade from the room on") {
  const Casting casting = example::slab_of_mm(50.0);
  for (const char* controller : {"twenty-steps-by-rate", "twelve-steps-by-time-F"}) {
    CAPTURE(controller);
    const Reanneal plan =
        plan_reanneal(casting,
                      example::kiln(),
                      read_controller(example::data_path("controllers/" + std::string{controller} +
                                                         ".controller")),
                      {},
                      seen(50.0),
                      std::nullopt);
    CHECK(plan.within);
    REQUIRE(plan.leaves.size() == 3);
    for (const Reanneal::Leaves& leaves : plan.leaves) {
      CHECK(leaves.retardation.in_nm_per_cm() <= 20.0);
    }
    CHECK(plan.whole.start == Firing{}.room);
    // The kiln is brought to the hold once.
    const Temperature hold = plan.rewarm.program.steps.back().target;
    const auto at_hold = std::count_if(plan.whole.steps.begin(),
                                       plan.whole.steps.end(),
                                       [&](const Step& step) { return step.target == hold; });
    CHECK(at_hold == (plan.whole.notation == Notation::rate ? 1 : 2));
    CHECK(plan.anneal.tail.hold.short_by == Duration{0.0});
  }
}

// Two paths to one number: the plan follows the heating of the slab that has the solid's centre
// tension, the check measures any program.
TEST_CASE(
    "rewarm: a check of the heating finds the pull at the centre that the plan was made for") {
  const Casting slab = example::slab_of_mm(60.0);
  for (const Shape& shape : {Shape{Slab{Length::from_mm(60.0)}},
                             Shape{Bar{Length::from_mm(60.0), Length::from_mm(60.0)}},
                             Shape{Prism{Length::from_mm(80.0)}}}) {
    CAPTURE(shape.index());
    Casting casting = slab;
    casting.shape = shape;
    const Kiln kiln = example::kiln();
    const Rewarm plan = plan_rewarm(
        casting, kiln, tenths(), {}, {}, seen(0.001), casting.glass.annealing_point.value);
    const Measured measured =
        measure(casting,
                kiln,
                Controller::LateOnCooling::waits,
                plan.program,
                {},
                {.relaxation = {.start_fictive_K = casting.glass.strain_point.value.in_K()}});
    REQUIRE(!plan.steps.empty());
    CHECK(measured.steps.front().tension_Pa ==
          doctest::Approx(plan.steps.front().added_Pa).epsilon(0.01));
  }
}

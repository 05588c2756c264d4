#include <cmath>
#include <variant>

#include <doctest/doctest.h>

#include "checking/measure.h"
#include "checking/random_casting.h"
#include "schedule/notation.h"

using namespace thickset;

namespace {

struct Fired {
  Casting casting;
  Kiln kiln;
  Program program;

  Measured by(const Program& other, const SimulationSettings& settings = {}) const {
    return measure(casting, kiln, Controller::LateOnCooling::waits, other, {}, settings);
  }
};

/// A hold at the annealing point and three stages, about as fast as such castings are cooled.
Fired some_firing(example::Chance& chance) {
  Fired fired{example::some_casting(chance), example::some_kiln(chance), {}};
  const double thickness_mm = equivalent_slabs(fired.casting.shape).steady_difference.in_mm();
  const double usual_K_per_h = 20000.0 / (thickness_mm * thickness_mm);
  const double hold_C = fired.casting.glass.annealing_point.value.in_C();
  fired.program.steps = {{.target = Temperature::from_C(hold_C),
                          .pace = AsFastAsPossible{},
                          .hold = hours(1.0 + thickness_mm / 15.0)}};
  for (const double to_C :
       {hold_C - chance.between(75.0, 130.0), hold_C - chance.between(170.0, 230.0), 40.0}) {
    fired.program.steps.push_back(
        {.target = Temperature::from_C(to_C),
         .pace = Rate::from_K_per_h(chance.between(0.5, 2.0) * usual_K_per_h)});
  }
  return fired;
}

constexpr int usual_samples = 40;

}  // namespace

TEST_CASE("any casting: a slower program never has a larger difference in the same stage") {
  example::Chance chance{20261127};
  const int samples = example::samples(usual_samples);
  for (int i = 0; i < samples; ++i) {
    const Fired fired = some_firing(chance);
    CAPTURE(example::described(fired.casting, fired.kiln));
    Program slower = fired.program;
    for (Step& step : slower.steps) {
      if (Rate* const rate = std::get_if<Rate>(&step.pace)) {
        *rate = Rate::from_K_per_s(rate->in_K_per_s() / chance.between(1.1, 2.0));
      }
    }
    const Measured quick = fired.by(fired.program), slow = fired.by(slower);
    constexpr double step_tolerance_K = 0.04;
    for (std::size_t step = 1; step < fired.program.steps.size(); ++step) {
      CAPTURE(step);
      CHECK(slow.steps[step].largest_difference_K <=
            quick.steps[step].largest_difference_K + step_tolerance_K);
    }
  }
}

TEST_CASE("any casting: a program written and read again gives the same numbers") {
  example::Chance chance{20261128};
  const int samples = example::samples(usual_samples);
  for (int i = 0; i < samples; ++i) {
    const Fired fired = some_firing(chance);
    CAPTURE(example::described(fired.casting, fired.kiln));
    const Program again = parse_program(write_program(fired.program), "again.csv");
    const Measured before = fired.by(fired.program), after = fired.by(again);
    const auto same = [](double a, double b) {
      constexpr double rounding_rel = 1e-9;  // a rate in K/s is not one in C/h, to the last bit
      return std::abs(a - b) <= rounding_rel * std::abs(b);
    };
    CHECK(same(after.permanent.mid_Pa, before.permanent.mid_Pa));
    CHECK(same(after.peak_tension_Pa, before.peak_tension_Pa));
    for (std::size_t step = 0; step < fired.program.steps.size(); ++step) {
      CHECK(same(after.steps[step].largest_difference_K, before.steps[step].largest_difference_K));
      CHECK(same(after.steps[step].end_s, before.steps[step].end_s));
    }
  }
}

TEST_CASE("any casting: half the spacing of the nodes changes little") {
  example::Chance chance{20261129};
  const int samples = example::samples(usual_samples);
  for (int i = 0; i < samples; ++i) {
    const Fired fired = some_firing(chance);
    CAPTURE(example::described(fired.casting, fired.kiln));
    const bool round = std::holds_alternative<Rod>(fired.casting.shape) ||
                       std::holds_alternative<Ball>(fired.casting.shape);
    const int usual = round ? nodes_of_other_solids : nodes_of_half_a_slab;
    const Measured coarse = fired.by(fired.program);
    const Measured fine = fired.by(fired.program, {.nodes = 2 * usual - 1});
    constexpr double of_stress = 0.01;
    CHECK(coarse.permanent.mid_Pa == doctest::Approx(fine.permanent.mid_Pa).epsilon(of_stress));
    CHECK(coarse.peak_tension_Pa == doctest::Approx(fine.peak_tension_Pa).epsilon(of_stress));
    for (std::size_t step = 1; step < fired.program.steps.size(); ++step) {
      CAPTURE(step);
      constexpr double tolerance_K = 0.06;  // notes/conduction.md, its error
      CHECK(std::abs(coarse.steps[step].largest_difference_K -
                     fine.steps[step].largest_difference_K) <= tolerance_K);
    }
  }
}

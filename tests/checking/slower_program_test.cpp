#include <doctest/doctest.h>

#include "checking/measure.h"
#include "checking/random_casting.h"

using namespace thickset;

TEST_CASE("any casting: a slower program never has a larger difference in the same stage") {
  example::Chance chance{20261127};
  const int samples = example::samples(40);
  for (int i = 0; i < samples; ++i) {
    const Casting casting = example::some_casting(chance);
    const Kiln kiln = example::some_kiln(chance);
    CAPTURE(example::described(casting, kiln));
    const double thickness_mm = equivalent_slabs(casting.shape).steady_difference.in_mm();
    const double usual_K_per_h = 20000.0 / (thickness_mm * thickness_mm);
    const double hold_C = casting.glass.annealing_point.value.in_C();
    Program program;
    program.steps = {{.target = Temperature::from_C(hold_C),
                      .pace = AsFastAsPossible{},
                      .hold = hours(1.0 + thickness_mm / 15.0)}};
    for (const double to_C :
         {hold_C - chance.between(75.0, 130.0), hold_C - chance.between(170.0, 230.0), 40.0}) {
      program.steps.push_back(
          {.target = Temperature::from_C(to_C),
           .pace = Rate::from_K_per_h(chance.between(0.5, 2.0) * usual_K_per_h)});
    }
    Program slower = program;
    for (Step& step : slower.steps) {
      if (Rate* const rate = std::get_if<Rate>(&step.pace)) {
        *rate = Rate::from_K_per_s(rate->in_K_per_s() / chance.between(1.1, 2.0));
      }
    }
    const auto run = [&](const Program& one) {
      return measure(casting, kiln, Controller::LateOnCooling::waits, one, {});
    };
    const Measured quick = run(program), slow = run(slower);
    constexpr double step_tolerance_K = 0.04;
    for (std::size_t step = 1; step < program.steps.size(); ++step) {
      CAPTURE(step);
      CHECK(slow.steps[step].largest_difference_K <=
            quick.steps[step].largest_difference_K + step_tolerance_K);
    }
  }
}

#include <random>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "checking/measure.h"

using namespace thickset;

TEST_CASE("a slower program never has a larger difference in the same stage") {
  std::mt19937 random{20261127};
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution{low, high}(random);
  };
  for (int i = 0; i < 12; ++i) {
    const double thickness_mm = between(12.0, 120.0);
    const Casting casting = example::slab_of_mm(thickness_mm);
    const Kiln kiln = example::kiln(i % 2 == 0 ? "small-fibre" : "middling-brick");
    const double usual_K_per_h = 20000.0 / (thickness_mm * thickness_mm);
    Program program;
    program.steps = {{.target = Temperature::from_C(513.0),
                      .pace = AsFastAsPossible{},
                      .hold = hours(1.0 + thickness_mm / 15.0)}};
    for (const double to_C : {between(380.0, 440.0), between(280.0, 340.0), 40.0}) {
      program.steps.push_back({.target = Temperature::from_C(to_C),
                               .pace = Rate::from_K_per_h(between(0.5, 2.0) * usual_K_per_h)});
    }
    Program slower = program;
    for (Step& step : slower.steps) {
      if (Rate* const rate = std::get_if<Rate>(&step.pace)) {
        *rate = Rate::from_K_per_s(rate->in_K_per_s() / between(1.1, 2.0));
      }
    }
    CAPTURE(thickness_mm);
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

#include "schedule/fit_to_settings.h"

#include <doctest/doctest.h>

#include "schedule/notation.h"

using namespace thickset;

namespace {

const Temperature hot = Temperature::from_C(800.0);
const Rate own_pace = Rate::from_K_per_h(250.0);

Controller by_rate(Degrees degrees) {
  Controller controller;
  controller.degrees = degrees;
  controller.rate_step_per_h = 1.0;
  controller.smallest_rate = rate_from_degrees_per_h(1.0, degrees);
  controller.largest_rate = rate_from_degrees_per_h(999.0, degrees);
  controller.steps = 10;
  return controller;
}

Controller by_time(Duration longest) {
  Controller controller;
  controller.step_form = Controller::StepForm::target_minutes;
  controller.longest_time = longest;
  controller.steps = 10;
  return controller;
}

FittedSetting fitted(const std::string& rows, const Controller& controller) {
  return fit_to_settings(
      parse_program("target_C,rate_C_per_h,hold_min\n" + rows, "p.csv"), controller, hot, own_pace);
}

// 110 K at 0.5 K/h are 220 h = 13200 min.
const std::string very_slow = "490,,\n380,0.5,\n";
const std::string slow = "490,,\n380,0.7,\n";

}  // namespace

TEST_CASE(
    "settings: 0.5 K/h by the minute is exact, in as many steps as the longest time asks for") {
  const FittedSetting minutes_9999 = fitted(very_slow, by_time(minutes(9999.0)));
  CHECK(minutes_9999.fitted.program.steps.size() == 2);
  CHECK(in_s(minutes_9999.fitted.lost) == doctest::Approx(0.0));
  const FittedSetting hours_99_59 = fitted(very_slow, by_time(minutes(5999.0)));
  CHECK(hours_99_59.fitted.program.steps.size() == 3);
  CHECK(in_s(hours_99_59.fitted.lost) == doctest::Approx(0.0));
  CHECK(hours_99_59.choice.empty());
}

TEST_CASE("settings: a controller of one setting is fitted as it is, with nothing to choose") {
  const FittedSetting in_C = fitted(very_slow, by_rate(Degrees::celsius));
  CHECK(in_C.fitted.cannot.size() == 1);
  CHECK(in_C.fitted.nearer.size() == 1);
  CHECK(in_C.choice.empty());
}

// Arithmetic: 0.5 K/h is 0.9 F/h. At 1 C/h the ramp takes 110 h, at 1 F/h 198 h, of 220 h asked.
TEST_CASE("settings: where neither degrees are slow enough the nearer one is taken and refused") {
  Controller either = by_rate(Degrees::celsius);
  either.other_degrees = Degrees::fahrenheit;
  const FittedSetting fit = fitted(very_slow, either);
  CHECK(fit.set_to.degrees == Degrees::fahrenheit);
  CHECK(fit.fitted.cannot.size() == 1);
  CHECK(fit.choice ==
        "set to F by rate cannot be keyed, 22 h off; C by rate cannot be keyed, 110 h off");
}

// Arithmetic: 0.7 K/h is 1.26 F/h; 198 F at 1 F/h take 198 h, asked are 110/0.7 = 157.1 h.
TEST_CASE("settings: 0.7 K/h can be keyed in whole F an hour, not in whole C") {
  Controller either = by_rate(Degrees::celsius);
  either.other_degrees = Degrees::fahrenheit;
  const FittedSetting fit = fitted(slow, either);
  CHECK(fit.fitted.cannot.empty());
  CHECK(std::get<Rate>(fit.fitted.program.steps[0].pace).in_F_per_h() == doctest::Approx(1.0));
  CHECK(fit.choice ==
        "set to F by rate loses 40.9 h in 1 step; C by rate cannot be keyed, 47.1 h off");
}

TEST_CASE("settings: time notation is taken where it loses least, rates where they lose nothing") {
  Controller either = by_rate(Degrees::celsius);
  either.other_step_form = Controller::StepForm::target_minutes;
  either.longest_time = minutes(5999.0);
  const FittedSetting by_the_minute = fitted(very_slow, either);
  CHECK(by_the_minute.set_to.notation() == Notation::time);
  CHECK(by_the_minute.fitted.program.notation == Notation::time);
  CHECK(by_the_minute.choice ==
        "set to C by time loses nothing in 3 steps; C by rate cannot be keyed, 110 h off");
  const FittedSetting at_a_rate = fitted("490,,\n380,2,60\n", either);
  CHECK(at_a_rate.set_to.notation() == Notation::rate);
  CHECK(at_a_rate.choice ==
        "set to C by rate loses nothing in 1 step; C by time loses nothing in 2 steps");
}

TEST_CASE("settings: steps that are not there weigh more than time lost") {
  Controller either = by_rate(Degrees::celsius);
  either.other_step_form = Controller::StepForm::target_minutes;
  either.steps = 1;
  // By time exact in two rows (ramp, hold); by rate one step, but 2.5 C/h becomes 2.
  const FittedSetting fit = fitted("490,,\n380,2.5,60\n", either);
  CHECK(fit.set_to.notation() == Notation::rate);
  CHECK(fit.fitted.cannot.empty());
}

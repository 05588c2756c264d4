#include "schedule/controller.h"

#include <doctest/doctest.h>

#include "schedule/notation.h"

using namespace thickset;

namespace {

Controller with(Controller::StepForm form) {
  Controller controller;
  controller.step_form = form;
  return controller;
}

}  // namespace

TEST_CASE("steps used: a ramp with a hold is one step by rate, two rows by time, two lines apart") {
  const Program p =
      parse_program("target_C,rate_C_per_h,hold_min\n500,asap,240\n450,5,0\n20,20,0\n", "p.csv");
  CHECK(steps_used(p, with(Controller::StepForm::rate_target_hold)) == 3);
  CHECK(steps_used(p, with(Controller::StepForm::target_minutes)) == 4);
  CHECK(steps_used(p, with(Controller::StepForm::ramp_and_hold_lines)) == 4);
}

TEST_CASE("steps used: a start row takes no step, a second hold in a row takes its own") {
  const Program p = parse_program("target_C,minutes\n500,0\n500,60\n500,60\n400,600\n", "p.csv");
  CHECK(steps_used(p, with(Controller::StepForm::target_minutes)) == 3);
  CHECK(steps_used(p, with(Controller::StepForm::rate_target_hold)) == 3);
}

TEST_CASE("settings: every combination once, the one described first") {
  Controller controller;
  controller.other_degrees = Degrees::fahrenheit;
  controller.other_step_form = Controller::StepForm::target_minutes;
  const std::vector<Controller> settings = settings_of(controller);
  REQUIRE(settings.size() == 4);
  CHECK(setting_name(settings[0]) == "C by rate");
  CHECK(setting_name(settings[1]) == "F by rate");
  CHECK(setting_name(settings[2]) == "C by time");
  CHECK(setting_name(settings[3]) == "F by time");
  CHECK(settings_of(Controller{}).size() == 1);
}

TEST_CASE("settings: in other degrees a display keeps its numbers, the kiln its temperatures") {
  Controller controller;
  controller.other_degrees = Degrees::fahrenheit;
  const Controller in_F = settings_of(controller)[1];
  CHECK(in_F.smallest_rate.in_F_per_h() == doctest::Approx(1.0));
  CHECK(in_F.largest_rate.in_F_per_h() == doctest::Approx(999.0));
  CHECK(in_F.rate_step_per_h == controller.rate_step_per_h);
  CHECK(in_F.highest_target == controller.highest_target);
}

TEST_CASE("notation: only steps of target and minutes are time notation") {
  CHECK(with(Controller::StepForm::target_minutes).notation() == Notation::time);
  CHECK(with(Controller::StepForm::rate_target_hold).notation() == Notation::rate);
  CHECK(with(Controller::StepForm::ramp_and_hold_lines).notation() == Notation::rate);
}

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

TEST_CASE("notation: only steps of target and minutes are time notation") {
  CHECK(with(Controller::StepForm::target_minutes).notation() == Notation::time);
  CHECK(with(Controller::StepForm::rate_target_hold).notation() == Notation::rate);
  CHECK(with(Controller::StepForm::ramp_and_hold_lines).notation() == Notation::rate);
}

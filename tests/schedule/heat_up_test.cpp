#include "schedule/heat_up.h"

#include <doctest/doctest.h>

#include "message_of.h"
#include "schedule/notation.h"

using namespace thickset;

namespace {

const Temperature room = Temperature::from_C(20.0);
const Place asked{.source = "--heat-up"};

Controller with_steps(int steps, Controller::StepForm form) {
  Controller controller;
  controller.step_form = form;
  controller.steps = steps;
  return controller;
}

HeatUp heat_up(const std::string& rows) {
  return {0, parse_program("target_C,rate_C_per_h,hold_min\n" + rows, "up.csv"), asked};
}

constexpr auto in_one = Controller::StepForm::rate_target_hold;
constexpr auto by_minutes = Controller::StepForm::target_minutes;
constexpr auto lines = Controller::StepForm::ramp_and_hold_lines;

}  // namespace

TEST_CASE("heat-up: its steps are counted as the controller takes them") {
  const HeatUp two_ramps = heat_up("200,50,60\n800,80,120\n");
  CHECK(steps_taken(two_ramps, with_steps(10, in_one), room) == 2);
  CHECK(steps_taken(two_ramps, with_steps(10, by_minutes), room) == 4);
  CHECK(steps_taken(two_ramps, with_steps(10, lines), room) == 4);
  CHECK(steps_taken({3, std::nullopt, asked}, with_steps(10, in_one), room) == 3);
}

// Arithmetic: 100 K at 0.5 K/h take 12000 min, two steps of at most 9999.
TEST_CASE("heat-up: a step that has to be split counts as its parts") {
  CHECK(steps_taken(heat_up("120,0.5,0\n"), with_steps(10, by_minutes), room) == 2);
}

TEST_CASE("heat-up: one that leaves no room for a tail is refused with both numbers") {
  const HeatUp three = heat_up("200,50,0\n500,50,0\n800,80,0\n");
  CHECK(steps_taken(three, with_steps(5, in_one), room) == 3);
  CHECK(message_of([&] { steps_taken(three, with_steps(4, in_one), room); }) ==
        "--heat-up: your heat-up takes 3 of the 4 steps of this controller; a tail needs two at "
        "least, the hold and one cooling; shorten the heat-up, or name a controller with more "
        "steps");
  CHECK(message_of([&] { steps_taken(three, with_steps(2, in_one), room); }) ==
        "--heat-up: your heat-up takes 3 steps, this controller has 2; shorten the heat-up, or "
        "name a controller with more steps");
}

TEST_CASE("heat-up: one that cannot be keyed is refused") {
  CHECK(
      message_of([] { steps_taken(heat_up("1350,50,0\n"), with_steps(9, in_one), room); }) ==
      "--heat-up: your heat-up cannot be keyed on this controller: step 1: 1350 °C is outside the "
      "0 to 1300 °C of this controller; `thickset convert` shows what can");
}

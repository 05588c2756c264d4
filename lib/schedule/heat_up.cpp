#include "schedule/heat_up.h"

#include <fmt/format.h>

#include "base/error.h"
#include "schedule/fit_to_controller.h"

namespace thickset {

namespace {

constexpr int least_steps_of_tail = 2;  // the hold and one cooling

}  // namespace

int steps_taken(const HeatUp& heat_up, const Controller& controller, Temperature room) {
  int steps = heat_up.reserved;
  std::optional<std::string> not_keyed;
  if (heat_up.program) {
    const FittedProgram fitted =
        fit_to_controller(*heat_up.program, controller, room, controller.largest_rate);
    steps = steps_used(fitted.program, controller);
    if (!fitted.cannot.empty()) not_keyed = fitted.cannot.front();
  }
  const std::string mend = "shorten the heat-up, or name a controller with more steps";
  if (steps > controller.steps) {
    throw Error{
        heat_up.place,
        fmt::format("your heat-up takes {} steps, this controller has {}", steps, controller.steps),
        mend};
  }
  if (controller.steps - steps < least_steps_of_tail) {
    throw Error{
        heat_up.place,
        fmt::format("your heat-up takes {} of the {} steps of this controller; a tail needs "
                    "two at least, the hold and one cooling",
                    steps,
                    controller.steps),
        mend};
  }
  if (not_keyed) {
    throw Error{heat_up.place,
                "your heat-up cannot be keyed on this controller: " + *not_keyed,
                "`thickset convert` shows what can"};
  }
  return steps;
}

}  // namespace thickset

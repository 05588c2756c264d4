#include "schedule/controller.h"

namespace thickset {

int steps_used(const Program& program, const Controller& controller) {
  const bool hold_joins_ramp = controller.step_form == Controller::StepForm::rate_target_hold;
  int used = 0;
  bool after_ramp = false;
  for (const Leg& leg : legs(program, std::nullopt)) {
    if (!(leg.is_hold && after_ramp && hold_joins_ramp)) ++used;
    after_ramp = !leg.is_hold;
  }
  return used;
}

}  // namespace thickset

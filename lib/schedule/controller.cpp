#include "schedule/controller.h"

#include <utility>

namespace thickset {

namespace {

Controller in_other_degrees(Controller controller) {
  const Degrees own = controller.degrees;
  const Degrees other = *controller.other_degrees;
  const auto same_number = [&](Rate rate) {
    return rate_from_degrees_per_h(in_degrees_per_h(rate, own), other);
  };
  controller.smallest_rate = same_number(controller.smallest_rate);
  controller.largest_rate = same_number(controller.largest_rate);
  controller.degrees = other;
  controller.other_degrees = own;
  return controller;
}

Controller in_other_form(Controller controller) {
  controller.other_step_form = std::exchange(controller.step_form, *controller.other_step_form);
  return controller;
}

}  // namespace

std::vector<Controller> settings_of(const Controller& controller) {
  std::vector<Controller> settings = {controller};
  if (controller.other_degrees) settings.push_back(in_other_degrees(controller));
  if (controller.other_step_form) {
    const std::size_t as_they_are = settings.size();
    for (std::size_t i = 0; i < as_they_are; ++i) settings.push_back(in_other_form(settings[i]));
  }
  return settings;
}

std::string setting_name(const Controller& controller) {
  const bool by_time = controller.notation() == Notation::time;
  return std::string{letter(controller.degrees)} + (by_time ? " by time" : " by rate");
}

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

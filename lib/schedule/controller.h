#pragma once

#include "schedule/program.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// What a kiln controller can be told, and what it does. Every field has its key in a .controller
/// file (notes/data_formats.md); an unknown behaviour is taken as the one that needs more care.
struct Controller {
  enum class StepForm {
    target_minutes,       ///< a target and the minutes to reach it; a hold is a step of its own
    rate_target_hold,     ///< one step: rate, target, hold
    ramp_and_hold_lines,  ///< a ramp (rate, target) and a hold are lines of their own
  };
  enum class Start { from_reading, stored };
  enum class LateOnCooling {
    waits,    ///< a step lasts until the kiln has reached the target
    goes_on,  ///< the clock runs on, the kiln catches up as it can
    stops,    ///< the program is broken off
  };
  enum class AfterEnd { off, holds, returns };

  std::string name;
  std::string title;
  StepForm step_form = StepForm::rate_target_hold;
  Degrees degrees = Degrees::celsius;
  std::optional<StepForm> other_step_form;  ///< it can be set to this one as well
  std::optional<Degrees> other_degrees;     ///< and to these
  double degree_step = 1.0;  ///< smallest step of a target, in its own degrees: 1 = whole degrees
  Temperature lowest_target = Temperature::from_C(0.0);
  Temperature highest_target = Temperature::from_C(1300.0);
  double rate_step_per_h = 1.0;  ///< smallest step of a rate, in its own degrees per hour
  Rate smallest_rate = Rate::from_K_per_h(1.0);
  Rate largest_rate = Rate::from_K_per_h(999.0);
  Duration time_step = minutes(1.0);
  bool keys_hours_and_minutes = false;  ///< a time is keyed as 38:48, else as 2328 minutes
  Duration longest_time =
      minutes(9999.0);                     ///< of one hold, and of one ramp where its time is keyed
  int steps = 8;                           ///< steps (or lines, where ramp and hold are apart)
  std::optional<std::string> as_fast_key;  ///< digits to key; nullopt: it has no such step
  std::string end_key;                     ///< what to key after the last step; empty: nothing
  Start start = Start::from_reading;
  LateOnCooling late_on_cooling = LateOnCooling::goes_on;
  bool late_on_cooling_known = true;
  AfterEnd after_end = AfterEnd::off;

  Notation notation() const {
    return step_form == StepForm::target_minutes ? Notation::time : Notation::rate;
  }
};

/// Every way the controller can be set, the one it is described in first: degrees and form of the
/// steps as they are, other degrees, other form, both.
///
/// In other degrees the steps of display and rates and the limits of rates keep their numbers, as a
/// display of three whole digits does (1 C becomes 1 F, 999 C/h become 999 F/h); the limits of
/// targets keep their temperatures.
std::vector<Controller> settings_of(const Controller& controller);

/// How it is set: "C by rate", "F by time".
std::string setting_name(const Controller& controller);

/// Steps (lines) this program takes on this controller, its end not counted.
///
/// By target and minutes: one for each ramp and each hold. By rate, target and hold: a hold right
/// after a ramp belongs to its step, any other hold is a step. Ramp and hold lines: one for each. A
/// start row takes none: where a start is keyed at all it has a setting of its own; a controller
/// that spends a step on it is described by one step less. A first step with no known start is
/// taken for a ramp.
int steps_used(const Program& program, const Controller& controller);

}  // namespace thickset

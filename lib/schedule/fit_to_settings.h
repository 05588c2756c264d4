#pragma once

#include "schedule/controller.h"
#include "schedule/fit_to_controller.h"

#include <string>

namespace thickset {

/// A program fitted to the setting of a controller that loses least.
struct FittedSetting {
  Controller set_to;  ///< the controller as it is to be set
  FittedProgram fitted;
  std::string choice;  ///< which setting and what each loses, a sentence; empty: it has one setting
};

/// fit_to_controller in each of settings_of(controller); the one that can be keyed, then the one
/// whose times differ least from those asked (Duration lost), then the one of fewest steps is
/// taken. Losses closer than a thousandth of the program's time are alike; of settings alike in all
/// the first is taken.
///
/// In: as fit_to_controller.
FittedSetting fit_to_settings(const Program& program,
                              const Controller& controller,
                              Temperature start,
                              const OwnPace& own_pace);

/// "1 step", "3 steps".
std::string counted_steps(int steps);

}  // namespace thickset

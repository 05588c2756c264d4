#pragma once

#include "base/place.h"
#include "schedule/controller.h"

#include <optional>

namespace thickset {

/// The user's own steps before the tail, keyed into the same program of the controller.
struct HeatUp {
  int reserved = 0;                ///< how many steps (lines) it takes, where that is known
  std::optional<Program> program;  ///< or the steps themselves, to be counted
  Place place{};                   ///< of the option that gave it
};

/// Steps (lines) the heat-up takes on this controller, as fit_to_controller keys it.
///
/// In: room, where a program without a start row begins.
/// Throws: Error where it takes more steps than there are, leaves fewer than the two a tail needs,
///         or cannot be keyed.
int steps_taken(const HeatUp& heat_up, const Controller& controller, Temperature room);

}  // namespace thickset

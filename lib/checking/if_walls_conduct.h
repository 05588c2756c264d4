#pragma once

#include "checking/limits.h"
#include "checking/measure.h"

#include <span>
#include <vector>

namespace thickset {

/// What a program does where assumed materials of the walls conduct so many times as well.
struct IfWallsConduct {
  double factor;
  Retardation retardation;  ///< of the treatment of the bulk that leaves most
  double peak_tension_Pa;   ///< of the one that pulls most
  bool opens;
  Duration open_after;
};

/// At half and at double the conductivity of every wall material whose status is assumed; empty
/// where there is none. Every treatment of held_to is simulated.
std::vector<IfWallsConduct> if_walls_conduct(const Casting& casting,
                                             const Kiln& kiln,
                                             Controller::LateOnCooling late,
                                             const Program& program,
                                             const Firing& firing,
                                             const Limits& limits,
                                             std::span<const Bulk> held_to);

/// The same for whatever a course is measured by.
std::vector<IfWallsConduct> if_walls_conduct(const Casting& casting,
                                             Temperature room,
                                             const Limits& limits,
                                             std::span<const Bulk> held_to,
                                             const MeasureCasting& measure_casting);

/// By how much assumed conductivities are tried apart from what their files say.
inline constexpr double tried_conductivity[] = {0.5, 2.0};

}  // namespace thickset

#pragma once

#include "kiln/follow.h"
#include "schedule/program.h"

#include <vector>

namespace thickset {

/// Legs as ramps with holds at their ends; a hold before the first ramp is left out.
std::vector<Step> joined(const std::vector<Leg>& legs, std::size_t first, std::size_t end);

/// What is left of a program at a moment of its own clock, as ramps with holds at their ends: the
/// rest of the leg under way, a ramp at its own pace, and the legs after it. Empty where it is
/// over.
///
/// In: air, the program as the kiln runs it from `start`, with the index of its steps; it may go on
///     after the program's end.
Program rest_by_clock(const Program& program, Temperature start, const AirCurve& air, double at_s);

/// The leg that is under way at a moment of a program's clock.
struct LegUnderWay {
  bool holds;     ///< else it ramps
  bool own_pace;  ///< as fast as the kiln can, as it does after the program's end
  int step;       ///< of the program; its number of steps where it is over
  double begin_s;
  Temperature from;
};
LegUnderWay leg_under_way(const Program& program,
                          Temperature start,
                          const AirCurve& air,
                          double at_s);

}  // namespace thickset

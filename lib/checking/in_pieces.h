#pragma once

#include "glass/glass.h"
#include "kiln/follow.h"
#include "units/temperature.h"

namespace thickset {

/// Above the annealing point by this much glass flows into its mould within hours: 150 K above, its
/// viscosity is some 10^7.5 Pa s, near the softening point. Our own bound.
inline constexpr auto melts_above_annealing = TemperatureDifference::from_K(150.0);

/// Until when the glass of a course is in pieces: the last moment within 5 K of its hottest, where
/// it melts then; else 0.
double in_pieces_until_s(const AirCurve& air, const Glass& glass);

}  // namespace thickset

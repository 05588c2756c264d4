#pragma once

#include "glass/glass.h"
#include "simulation/history.h"

/// What a hold is there to erase: the stress and the structure that earlier cooling left.
namespace thickset {

/// The glass has relaxed when its past leaves at most this share of the stress set later, and
inline constexpr double relaxed_share = 0.05;
/// when its fictive temperature is this near its temperature: by an eighteenth of a decade of the
/// cooling rate, at 18 K a decade.
inline constexpr double equilibrium_tol_K = 1.0;

/// Stress that the past alone would leave if the glass were cooled evenly from here: the largest in
/// it now, and what its structure would add, E/(1-nu) (alpha_liquid - alpha_glass) times the
/// difference of T_f - T from centre to surface. A temperature difference that the structure
/// follows is no past. Source: derived in notes/relaxation.md#when-a-hold-has-relaxed.
double left_by_past_Pa(const Glass& glass, const History::Row& row);

/// How far the fictive temperature is from the temperature, at the centre or the surface.
double off_equilibrium_K(const History::Row& row);

/// Whether no more is left than that, for a permanent stress that comes later.
bool has_relaxed(const Glass& glass, const History::Row& row, double permanent_Pa);

}  // namespace thickset

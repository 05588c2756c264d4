#pragma once

#include "base/place.h"
#include "base/progress.h"
#include "geometry/gridded_solid.h"
#include "geometry/meshed_solid.h"
#include "geometry/solid_by_measures.h"

#include <vector>

namespace thickset {

/// Throws: Error at `place` for sides that a solid does not have: of round ones all but the bottom
///         of a vessel, dome, cone or bossed disc, of a wedge its top, which slopes.
void check_insulated(const SolidByMeasures& solid,
                     const std::vector<BoxSide>& insulated,
                     const Place& place);

/// Its temperature field, slowest mode and permanent tension, with these sides insulated and what
/// lies against a core: one to five seconds.
///
/// In:     measures and sides as checked; `place` for messages.
/// Throws: Error where a wall is too thin for a grid over the whole; see gridded_solid.
GriddedSolid gridded_solid(const SolidByMeasures& solid,
                           const std::vector<BoxSide>& insulated,
                           const Place& place,
                           const Progress& progress);

}  // namespace thickset

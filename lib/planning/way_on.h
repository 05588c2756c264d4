#pragma once

#include "base/progress.h"
#include "planning/judge_way.h"
#include "planning/rest_of_program.h"

#include <optional>
#include <span>
#include <vector>

namespace thickset {

/// Every way that makes sense from here: go on; below the hold, while the slowest glass is still in
/// the setting range, also wait here and go back. Where none passes, the last is to let it fall.
/// The first that passes is to be taken: less is done to the glass by it than by those after it.
/// Before the hold there is but one, to go on.
///
/// The rate back is the quickest of those tried that pulls little enough until the kiln is at the
/// hold, by simulation.
std::vector<WayOn> ways_on(const TailOfProgram& tail,
                           const FiringSoFar& so_far,
                           const WaysRequest& request,
                           const Progress& progress = {});

/// The first that passes; else the one nearest to it, the last where others leave little less.
const WayOn& advised(std::span<const WayOn> ways);

/// What stays whatever is done, short of heating it again: the rest at a tenth of its pace, under
/// the treatment of the bulk by which least stays.
Retardation certain_by_now(const WayOn& go_on,
                           const FiringSoFar& so_far,
                           const WaysRequest& request);

}  // namespace thickset

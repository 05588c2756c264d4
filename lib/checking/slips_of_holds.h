#pragma once

#include "checking/checked_program.h"

#include <vector>

namespace thickset {

/// Holds of another size than the glass needs, whose number read another way is near it: hours as
/// minutes, minutes times 60, h:mm without its colon; and no time at all at the anneal.
///
/// What it needs: the time until it is even, simulated; relaxing takes longer below the annealing
/// point, which hold_findings says.
std::vector<Finding> slips_of_holds(const CheckedProgram& checked);

}  // namespace thickset

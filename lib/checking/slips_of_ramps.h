#pragma once

#include "checking/checked_program.h"

#include <vector>

namespace thickset {

/// Ramps far faster than the casting bears, or far slower than it needs, whose number read another
/// way is near what it needs: hours as minutes, a rate as a time, a time as a rate. Steps with the
/// same slip make one finding.
///
/// A reading is offered only where the program, simulated with it, pulls and leaves little more
/// than the limits in that step.
std::vector<Finding> slips_of_ramps(const CheckedProgram& checked);

}  // namespace thickset

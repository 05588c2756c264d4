#pragma once

#include "checking/slips.h"

#include <vector>

namespace thickset {

/// No time where time belongs: an anneal reached and left at once, with the hold it needs (the time
/// until the glass is even, simulated, and to relax, an estimate); a first row of 0 minutes, which
/// is the start and not a fall as fast as the kiln goes.
std::vector<KeyingSlip> slips_of_zero(const CheckedProgram& checked);

}  // namespace thickset

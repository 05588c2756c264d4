#pragma once

#include "checking/slips.h"

#include <vector>

namespace thickset {

/// No time where time belongs: an anneal reached and left at once, with the hold it needs (the time
/// until the glass is even, simulated, and to relax, an estimate); a first row of 0 minutes, which
/// is the start and not a fall as fast as the kiln goes; a number that the named controller takes
/// for as fast as it goes, where the casting does not bear that.
std::vector<KeyingSlip> slips_of_zero(const CheckedProgram& checked);

/// Whether a step's rate is digits that stand for no ramp: the named controller's own, else 999 and
/// 9999, which many take so.
bool keys_own_pace(const CheckedProgram& checked, std::size_t step);

}  // namespace thickset

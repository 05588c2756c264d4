#pragma once

#include "checking/slips.h"

#include <vector>

namespace thickset {

/// Numbers that make sense in the other degrees only: a program with no target near the annealing
/// point but one whose number is near it as F for C or C for F, or one target out of line whose
/// number is in line when read so.
std::vector<KeyingSlip> slips_of_degrees(const CheckedProgram& checked);

}  // namespace thickset

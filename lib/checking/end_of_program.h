#pragma once

#include "checking/checked_program.h"

#include <vector>

namespace thickset {

/// A program that ends far above the room: what its controller does then, and the step to key that
/// takes the casting there within the limits, simulated.
///
/// A slip where the controller keeps or changes the temperature by itself, or where the kiln's own
/// fall is over a limit; where that fall is within the limits, a note. No named controller: the
/// elements go off.
std::vector<Finding> end_of_program(const CheckedProgram& checked);

}  // namespace thickset

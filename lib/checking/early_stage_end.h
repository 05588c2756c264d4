#pragma once

#include "checking/checked_program.h"

#include <optional>

namespace thickset {

/// A slow stage that ends by the kiln's temperature while the core is still hotter and in the range
/// where stress sets, in a program that leaves too much: the lower target at which the core is
/// where the kiln was meant to be, and what the program then leaves, simulated.
///
/// nullopt where no stage's lower target leaves markedly less.
std::optional<Finding> early_stage_end(const CheckedProgram& checked);

}  // namespace thickset

#pragma once

#include <span>
#include <string>

#include "planning/hold_choice.h"
#include "reporting/display.h"

namespace thickset {

/// What holding at other temperatures would cost and risk, as a table with two sentences.
std::string hold_curve_section(std::span<const HoldOption> options, const Display& display);

}  // namespace thickset

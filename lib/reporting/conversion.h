#pragma once

#include "schedule/controller.h"
#include "schedule/fit_to_controller.h"

#include <optional>
#include <string>

namespace thickset {

/// A converted program for a person: its steps, then what the conversion lost or that it is exact;
/// where it cannot be keyed why, and no steps. `begins`: at what temperature, where that is known.
/// `setting` says how the controller is set and why; empty where it has one setting.
std::string conversion_text(const FittedProgram& converted,
                            const std::optional<Controller>& controller,
                            const std::string& setting,
                            const std::optional<Temperature>& begins);

/// The converted program as a program file, losses in comments.
std::string conversion_csv(const FittedProgram& converted);

/// "step_1_to_C", "step_1_min" or "step_1_rate_C_per_h" and "step_1_hold_min", "exact".
std::string conversion_keys(const FittedProgram& converted);

}  // namespace thickset

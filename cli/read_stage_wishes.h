#pragma once

#include <string_view>

#include "base/place.h"
#include "planning/fastest_stages.h"

namespace thickset::cli {

/// The user's own stage ends: "450C,360C", one fewer than stages; "free" where one is to be found.
/// Throws: Error at `place` for a bare number, ends that do not fall, or more than 11.
std::vector<std::optional<Temperature>> read_stage_ends(std::string_view text, const Place& place);

/// The user's own rates: "4C/h,free,60C/h", one for each stage.
/// Throws: Error at `place` for a bare number, a rate that is none, or more than 12.
std::vector<std::optional<Rate>> read_stage_rates(std::string_view text, const Place& place);

}  // namespace thickset::cli

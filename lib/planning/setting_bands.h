#pragma once

#include <span>
#include <vector>

#include "checking/limits.h"
#include "planning/cool_down.h"
#include "planning/partition.h"
#include "planning/stage_search.h"

namespace thickset {

/// Where stress sets: how much of the permanent stress each narrow band of temperature leaves for
/// its rate, and the many-banded cool-down that is quickest by that.
///
/// Begins from the closed form, lays the quickest course by it, and makes one band after the other
/// faster in the simulation.
/// Error: good for where to begin a search; bands answer to each other's rates.
/// Source: notes/planning.md#envelope.
struct SettingBands {
  std::vector<Band> bands;   ///< left_per_rate in shares of the limit
  std::vector<double> to_K;  ///< where each ends
  double least_time_s;       ///< of the many-banded cool-down, which few stages hardly beat
  Course course;             ///< that cool-down
};
SettingBands setting_bands(std::span<const Casting> castings,
                           const CoolDown& cool_down,
                           const StageBounds& bounds,
                           const Limits& limits,
                           double aim);

}  // namespace thickset

#pragma once

#include <optional>
#include <span>
#include <vector>

#include "checking/limits.h"
#include "planning/hold.h"

namespace thickset {

/// What a hold at one temperature costs.
struct HoldOption {
  Hold hold;
  Duration cool_down{0.0};  ///< quickest found after it
  /// The hold needed with an annealing point higher by stiffer_by, the largest uncertainty of the
  /// castings' glasses; nullopt: over 30 days.
  std::optional<Duration> if_stiffer{};
  TemperatureDifference stiffer_by = TemperatureDifference::from_K(10.0);
  Duration total() const { return hold.total() + cool_down; }
};

/// How much lower than the annealing point a hold may be planned: farther down the answer hangs on
/// what the fall left, on the sensor and on the least certain part of the model. Our own bound.
inline constexpr auto hold_below_annealing = TemperatureDifference::from_K(25.0);

/// Temperatures that a plan compares.
inline constexpr int hold_temperatures_tried = 3;

/// What holding costs between the floor (rules::hold_floor of
/// every casting; at most hold_below_annealing under the annealing point) and the annealing point,
/// from there down in equal steps.
///
/// In: castings that share the kiln, at least one; temperatures, at least two; degrees and
///     degree_step that holds are keyed in. The last target of the cool-down is `end`.
/// Error: of the cool-down as SettingBands::least_time_s, a few per cent, much the same in all.
/// Throws: Error where castings leave no temperature that suits all, and as size_hold.
std::vector<HoldOption> hold_options(std::span<const Casting> castings,
                                     const Kiln& kiln,
                                     Controller::LateOnCooling late,
                                     const Firing& firing,
                                     const Limits& limits,
                                     std::span<const Bulk> bulks,
                                     Temperature end,
                                     int temperatures = hold_temperatures_tried,
                                     Degrees degrees = Degrees::celsius,
                                     double degree_step = 1.0);

/// The same options with what a stiffer glass would need.
std::vector<HoldOption> with_doubt(std::vector<HoldOption> options,
                                   std::span<const Casting> castings,
                                   const Kiln& kiln,
                                   const Firing& firing,
                                   const Limits& limits,
                                   Degrees degrees);

/// The option that takes the least time; of those within 1 % of it the hottest.
const HoldOption& quickest(std::span<const HoldOption> options);

/// A hold long enough for every casting: each part that of the one that takes longest.
/// Throws: as size_hold of each.
Hold size_hold_for_all(std::span<const Casting> castings,
                       const Kiln& kiln,
                       const Firing& firing,
                       Rate setting_rate,
                       Temperature temperature,
                       Degrees shown);

}  // namespace thickset

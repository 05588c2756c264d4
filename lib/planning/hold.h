#pragma once

#include "checking/check.h"
#include "planning/hold_course.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// How hot and how long to hold, and what the time is made of. The clock starts when the kiln's
/// thermocouple reaches the hold temperature. Each part ends when the last of three simulations has
/// come so far: the sensor true, its tolerance too high, and its tolerance too low.
struct Hold {
  Temperature temperature = Temperature::from_K(0.0);
  Duration arriving{0.0};  ///< until the slowest glass is within arrival_tol_K of the kiln
  Duration evening{0.0};   ///< from then until the difference is a small share of the later one
  Duration relaxing{0.0};  ///< from then until the past has left a small share of the later stress
  Duration margin{0.0};    ///< rounding up, or what a fixed hold is longer
  Duration short_by{0.0};  ///< what a fixed hold is shorter than the first three parts
  Duration needed() const { return arriving + evening + relaxing; }
  Duration total() const { return needed() + margin - short_by; }

  TemperatureDifference sensor_tolerance = TemperatureDifference::from_K(0.0);
  TemperatureDifference behind_on_arrival = TemperatureDifference::from_K(0.0);  ///< core - kiln
  Duration relaxing_if_sensor_true{0.0};
  Duration relaxing_estimate{0.0};  ///< three mean structural times at the lowest temperature
  std::vector<std::string> notes{};
};

/// Sizes a hold. fixed_temperature: the user's own; else the annealing point.
/// setting_rate: the cooling rate that follows, which says what "even" means.
/// shown: the degrees of the notes' sentences.
/// Throws: Error where the temperature makes no sense for the glass: above the softening point
/// (asks whether degrees F were meant) or so cool that relaxing would take over 30 days (names the
/// floor), or above the start of the firing.
Hold size_hold(const Casting& casting,
               const Kiln& kiln,
               const Firing& firing,
               Rate setting_rate,
               std::optional<Temperature> fixed_temperature = std::nullopt,
               Degrees shown = Degrees::celsius);

}  // namespace thickset

#pragma once

#include "checking/check.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// How hot and how long to hold, and what the time is made of. The clock starts when the kiln's
/// thermocouple reaches the hold temperature.
struct Hold {
  Temperature temperature = Temperature::from_K(0.0);
  Duration arriving{0.0};  ///< until the slowest glass is within arrival_tol_K of the kiln
  Duration evening{0.0};   ///< from then until the difference is a small share of the later one
  Duration relaxing{0.0};  ///< structure and stress at the lowest temperature the sensor allows
  Duration margin{0.0};    ///< rounding up to what a controller takes
  Duration total() const { return arriving + evening + relaxing + margin; }

  TemperatureDifference sensor_tolerance = TemperatureDifference::from_K(0.0);
  TemperatureDifference behind_on_arrival = TemperatureDifference::from_K(0.0);  ///< core - kiln
  Duration relaxing_if_sensor_true{0.0};
  std::vector<std::string> notes{};
};

inline constexpr double arrival_tol_K = 5.0;
inline constexpr double evening_share = 0.05;  ///< of the difference under the later setting rate

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

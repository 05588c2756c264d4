#pragma once

#include "kiln/kiln.h"
#include "simulation/casting.h"
#include "units/duration.h"
#include "units/rate.h"

#include <optional>

namespace thickset {

/// When a casting that falls to a hold and stays there has come through it, counted from when the
/// kiln arrives.
struct HoldCourse {
  Duration arrived{0.0};  ///< the slowest glass is within arrival_tol_K of the kiln
  Duration even{0.0};     ///< and the difference inside is evening_share of the later one
  Duration relaxed{0.0};  ///< and what the past left is relaxed_share of the stress set later
  TemperatureDifference behind_on_arrival = TemperatureDifference::from_K(0.0);  ///< core - kiln
};

inline constexpr double arrival_tol_K = 5.0;
inline constexpr double evening_share = 0.05;  ///< of the difference under the later setting rate
inline constexpr auto longest_relaxing = hours(30.0 * 24.0);  ///< from when the glass is even

/// Simulates a fall from `start` to a hold with the kiln really at `hold`, and the hold, longer and
/// longer until the glass has relaxed.
///
/// Out: nullopt where that takes longer than longest_relaxing.
/// Error: that of one step of the simulation, between whose ends each difference is taken to fall
/// exponentially.
std::optional<HoldCourse> hold_course(const Casting& casting,
                                      const Kiln& kiln,
                                      Temperature start,
                                      Temperature hold,
                                      Rate setting_rate);

}  // namespace thickset

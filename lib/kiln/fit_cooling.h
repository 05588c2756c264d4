#pragma once

#include "base/place.h"
#include "kiln/natural_cooling.h"
#include "kiln/reading.h"
#include "units/temperature.h"

#include <span>
#include <vector>

namespace thickset {

/// How a kiln falls by itself, from readings while it did.
struct CoolingFit {
  NaturalCooling cooling;
  std::vector<double> doubt;  ///< of each point's rate, relative: a standard error
  double rms_K;               ///< of the readings, or their means, from the fall fitted
  double largest_K;
  /// What one time constant alone, Newton's cooling, would leave, and that constant.
  double rms_of_one_constant_K;
  double one_constant_s;
  Temperature from, to;  ///< the readings' range: beyond it the fall is continued, not known
};

/// A fall with the fewest points that describe the readings: points are added while that takes more
/// off the misfit than their number explains (Bayesian information criterion, [SCH78]). Least
/// squares of the temperatures, not of rates, by Levenberg and Marquardt's method. Standard errors
/// count neighbouring readings that err together as fewer.
///
/// In:  readings in order of time, six at least, of which the last is below the first.
/// Throws: Error at `place` where they are too few, do not fall by 50 K, or reach the room.
CoolingFit fit_cooling(std::span<const Reading> readings, Temperature room, const Place& place);

/// The longest stretch of readings that does not rise by more than `rise_K` above its lowest yet,
/// of those after the hottest reading. Out: first, and one beyond the last.
struct Stretch {
  std::size_t first, beyond;
};
Stretch longest_fall(std::span<const Reading> readings, double rise_K);

}  // namespace thickset

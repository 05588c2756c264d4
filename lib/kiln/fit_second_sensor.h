#pragma once

#include "kiln/reading.h"

#include <span>

namespace thickset {

/// How a second thermometer follows the first: M' = (A - M)/lag, and shows M + offset.
///
/// In the air beside the first its lag is near zero and the offset is what the two disagree by; in
/// a mould or under a shelf the lag is that of the load. One time constant is a coarse picture of a
/// load, whose inside follows later than its outside.
struct SecondSensor {
  double lag_s, lag_doubt_s;        ///< and its standard error
  double offset_K, offset_doubt_K;  ///< the doubt with that of the lag
  double rms_K;
  double largest_difference_K;  ///< of the two as read
};

/// Beside the first sensor: it follows within a few minutes. Then the two measure the same air, and
/// what they disagree by is a sensor's error. Our own bound.
inline bool beside_the_first(const SecondSensor& second) {
  constexpr double at_most_s = 900.0;
  return second.lag_s <= at_most_s;
}

/// Least squares; for each lag offset and start are linear, the lag is found by Brent's method.
///
/// In: readings at the same times, in order, at least six of them.
SecondSensor fit_second_sensor(std::span<const Reading> first, std::span<const Reading> second);

}  // namespace thickset

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
  double lag_s, lag_doubt_s;  ///< and its standard error
  double offset_K, offset_doubt_K;
  double rms_K;
  double largest_difference_K;  ///< of the two as read
};

/// Least squares; for each lag offset and start are linear, the lag is found by Brent's method.
///
/// In: readings at the same times, in order, at least six of them.
SecondSensor fit_second_sensor(std::span<const Reading> first, std::span<const Reading> second);

}  // namespace thickset

#pragma once

#include <span>
#include <vector>

namespace thickset {

/// From the lowest to the highest value of something.
struct Range {
  double low, high;
};

Range range_of(std::span<const double> values);  ///< of one value at least
Range with(Range range, double value);           ///< widened to hold the value

/// A straight line from values to places in a picture.
struct Scale {
  Range values;
  double from_px, to_px;  ///< where the lowest and the highest value are

  double at(double value) const {
    return from_px + (value - values.low) / (values.high - values.low) * (to_px - from_px);
  }
};

/// Round values within a range, at most so many: apart by 1, 2 or 5 times a power of ten.
///
/// In: low < high, most >= 2.
std::vector<double> nice_ticks(Range range, int most);

/// Hours within a range, at most so many: apart by parts of an hour or of a day, or by days.
std::vector<double> hour_ticks(Range range, int most);

/// Digits after the point that ticks so far apart need.
int decimals_of(const std::vector<double>& ticks);

}  // namespace thickset

#pragma once

#include <cstddef>
#include <span>

/// What sampled values say together.
namespace thickset {

/// How many of the samples kept a limit.
struct Chance {
  std::size_t kept = 0, of = 0;

  double share() const { return static_cast<double>(kept) / static_cast<double>(of); }
  /// Of the share, were the points random: evenly spread points have less. With one sample more on
  /// either side, so that it is not zero where all are kept.
  double standard_error() const;
};

/// Samples whose value is at most the limit.
Chance chance_within(std::span<const double> values, double limit);

/// The value that this share of the samples does not exceed, by straight lines between the sorted
/// values, the first at 0 and the last at 1. At least one value; share 0 to 1; asserted.
double quantile(std::span<const double> values, double share);

/// Where nine samples of ten lie, and the middle one.
struct NineInTen {
  double low, middle, high;  ///< 5, 50 and 95 %
};
NineInTen band_of(std::span<const double> values);

}  // namespace thickset

#pragma once

#include "schedule/firing_log.h"

#include <span>
#include <vector>

namespace thickset {

/// A course of temperatures as straight lines between corners.
struct Polyline {
  struct Corner {
    double time_s, T_K;
  };
  std::vector<Corner> corners;  ///< each later than the one before

  double at_K(double time_s) const;  ///< before the first and after the last: their values
};

/// The fewest corners in one pass such that every reading is within tolerance_K of the line;
/// corners stand at the times of readings, the first and last at the first and last reading's.
///
/// In:     times that rise strictly, as many temperatures; at least one.
/// Source: the fan of lines from the last corner that pass every reading within the tolerance;
/// where
///         it closes, a corner is set. Derived in notes/data_formats.md#from-readings-to-a-curve.
Polyline polyline_within(std::span<const double> time_s,
                         std::span<const double> T_K,
                         double tolerance_K);

/// The few corners of a line between which it goes straight within tolerance_K, or within more
/// where there would be over `most` stretches: their indices, the first and the last among them.
///
/// Source: the stretch whose middle is farthest off is parted there, again and again.
std::vector<std::size_t> outline(const Polyline& line, double tolerance_K, std::size_t most);

inline constexpr double log_tolerance_K = 0.1;
inline constexpr double log_window_s = 30.0;

/// A log's course. Readings that come more often than every half minute are first averaged over
/// half minutes, the first and the last reading kept. Then a polyline within 0.1 K of that, or
/// within half the smallest step between readings where that is more.
Polyline reduced(const FiringLog& log);

/// The averages that `reduced` is within its tolerance of, and that tolerance.
struct AveragedLog {
  std::vector<double> time_s, T_K;
  double tolerance_K;
};
AveragedLog averaged(const FiringLog& log);

}  // namespace thickset

#pragma once

#include <span>
#include <vector>

namespace thickset {

/// What a thermometer showed.
struct Reading {
  double time_s;
  double T_K;
};

/// Readings thinned to means over equal times, at most so many: what is fitted is then the same for
/// a reading a second and a reading a minute, and noise counts by its mean. Readings that are as
/// few are left as they are.
std::vector<Reading> means_over_time(std::span<const Reading> readings, std::size_t most);

}  // namespace thickset

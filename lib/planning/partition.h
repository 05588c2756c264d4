#pragma once

#include <span>
#include <vector>

namespace thickset {

/// A band of temperature of a cool-down, from hot to cold.
struct Band {
  double width_K;
  double left_per_rate;    ///< permanent stress that a rate of 1 K/s in this band leaves, Pa s/K
  double fastest_K_per_s;  ///< what tension and kiln allow
};

/// Consecutive bands cooled at one rate.
struct BandGroup {
  std::size_t end;  ///< one past its last band
  double rate_K_per_s;
};

/// The quickest way through the bands in `groups` groups of one rate each that leaves no more than
/// `allowed` (Pa), where what is left is the sum of rate times left_per_rate.
///
/// Least sum of width over rate: with a price L on what is left, a group of width w and sum q costs
/// w/r + L r q, least at r = sqrt(w/(L q)); the best cut is found by dynamic programming, and L by
/// bisection. Bands that leave nothing or less go as fast as they may. Where even the fastest
/// leaves no more than allowed, that. allowed > 0; 1 <= groups <= bands.
/// Source: [BELL57] for dynamic programming; notes/planning.md#stages.
std::vector<BandGroup> quickest_groups(std::span<const Band> bands, int groups, double allowed);

}  // namespace thickset

#pragma once

#include <span>
#include <string>

/// Whole tails as people ask for them, each held to all three treatments of the bulk.
namespace thickset::bench {

struct TailTimes {
  double thickness_mm;
  double six_stages_ms;  ///< bands and search for just six
  double up_to_six_ms;   ///< bands and search for one to six, as far as one more gains something
  double by_time_ms;     ///< the whole tail with its price list, for a controller keyed by time
  double by_rate_ms;     ///< and by whole degrees an hour
};

/// Medians for a slab of casting soda-lime glass in the small kiln.
TailTimes tail_times(double thickness_mm);

}  // namespace thickset::bench

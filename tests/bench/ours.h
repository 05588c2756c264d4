#pragma once

#include "bench/workload.h"

/// Our side of the bench: the library at its own default settings unless told otherwise.
namespace thickset::bench::ours {

struct Settings {
  int nodes;
  double tolerance_K;
  double half_thickness_m = Slab{}.half_thickness_m;
};
Settings default_settings();

/// W1. Everything that a solve needs is made anew, as for one casting.
SixPeaks peaks_K(const Settings& settings = default_settings());

/// Steps of time that W1 takes.
int steps(const Settings& settings = default_settings());

/// W2.
double retardation_nm_per_cm(const Settings& settings = default_settings());

}  // namespace thickset::bench::ours

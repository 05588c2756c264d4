#pragma once

#include "units/stress.h"

namespace thickset::stress {

/// Retardation per path of a stress seen edge-on: C sigma; 1 nm/cm is 1e-7.
/// Source: [ISO10110-18], OPD = a sigma K.
constexpr Retardation retardation(double stress_optical_per_Pa, double stress_Pa) {
  return Retardation::from_nm_per_cm(stress_optical_per_Pa * stress_Pa * 1e7);
}

/// The stress that shows this retardation.
constexpr double stress_of_retardation_Pa(double stress_optical_per_Pa, Retardation seen) {
  return seen.in_nm_per_cm() * 1e-7 / stress_optical_per_Pa;
}

}  // namespace thickset::stress

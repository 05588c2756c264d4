#pragma once

#include "units/stress.h"

namespace thickset {

/// What a tail must keep.
struct Limits {
  /// Permanent retardation seen edge-on at the centre. Default: above 20 nm/cm an anneal is called
  /// coarse, below 10 fine [ISO10110-18].
  Retardation grade = Retardation::from_nm_per_cm(20.0);
  /// Tension anywhere at any moment. Default: raw or unknown cast surface (assumed, no source found
  /// for cast glass); annealed glass under long load: 6.9 MPa [SHAND58].
  Stress tension = Stress::from_MPa(3.0);
};

}  // namespace thickset

#include "glass/stress_optical_range.h"

#include <algorithm>

#include "glass/glass_stand_ins.h"

namespace thickset {
namespace {

struct Bounds {
  double low_per_Pa, high_per_Pa;
};

constexpr Bounds unknown_bounds{2.3e-12, 4.1e-12};

Bounds bounds_of(GlassFamily family) {
  switch (family) {
    case GlassFamily::soda_lime: return {2.5e-12, 2.8e-12};
    case GlassFamily::lead: return {2.6e-12, 3.1e-12};
    case GlassFamily::barium: return {2.3e-12, 3.0e-12};
    case GlassFamily::borosilicate: return {2.7e-12, 4.1e-12};
    case GlassFamily::unknown: break;
  }
  return unknown_bounds;
}

}  // namespace

StressOpticalRange stress_optical_range(const Glass& glass) {
  const double value_per_Pa = glass.stress_optical_per_Pa.value;
  if (!glass.stress_optical_per_Pa.assumed) {
    constexpr double share = 0.05;
    return {(1.0 - share) * value_per_Pa, value_per_Pa, (1.0 + share) * value_per_Pa, false};
  }
  const Bounds bounds = bounds_of(glass.family);
  return {bounds.low_per_Pa,
          std::clamp(value_per_Pa, bounds.low_per_Pa, bounds.high_per_Pa),
          bounds.high_per_Pa,
          true};
}

StressOpticalRange unknown_stress_optical_range() {
  return {unknown_bounds.low_per_Pa,
          stand_ins::stress_optical_per_Pa().value,
          unknown_bounds.high_per_Pa,
          true};
}

}  // namespace thickset

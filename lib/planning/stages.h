#pragma once

#include "checking/limits.h"
#include "checking/measure.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"

#include <vector>

namespace thickset {

/// The cool-down below the hold as planned, before any rounding.
struct PlannedStage {
  enum class Kind {
    upper,    ///< above where stress sets
    setting,  ///< stress is being set: the retardation limits
    easing,   ///< rates step up
    run_out,  ///< only tension limits
  };
  Kind kind;
  Temperature to;
  Rate rate;
  Duration rest{0.0};  ///< held at its end
};

/// "upper", "setting", "easing" or "run-out".
const char* name_of(PlannedStage::Kind kind);

/// Rates by closed form: the first guess, printed beside what the simulation made of it.
struct StageEstimate {
  Rate setting = Rate::from_K_per_s(0.0);  ///< leaves just the grade
  Rate run_out = Rate::from_K_per_s(0.0);  ///< pulls just the tension limit
};
StageEstimate estimate_rates(const Casting& casting, const Limits& limits);

/// The permanent tension at the mid-plane of a slab cooled through the transition at one rate, by
/// closed form; for another shape, of the slab of the same permanent tension.
double estimate_permanent_Pa(const Glass& glass, Length slab, Rate rate);

}  // namespace thickset

#include "planning/stages.h"

#include <algorithm>
#include <cmath>

#include "conduction/face.h"
#include "simulation/steady_cooling.h"
#include "stress/permanent_estimate.h"
#include "stress/retardation.h"
#include "stress/surface_tension.h"

namespace thickset {
const char* name_of(PlannedStage::Kind kind) {
  switch (kind) {
    case PlannedStage::Kind::upper: return "upper";
    case PlannedStage::Kind::setting: return "setting";
    case PlannedStage::Kind::easing: return "easing";
    case PlannedStage::Kind::run_out: return "run-out";
  }
  return "";
}

double estimate_permanent_Pa(const Glass& glass, Length slab, Rate rate) {
  return stress::structural_factor(glass.liquid_expansion_per_K.value,
                                   glass.expansion_per_K.value) *
         stress::classical_midplane_Pa(glass.biaxial_stress_Pa_per_K(),
                                       rate.in_K_per_s(),
                                       0.5 * slab.in_m(),
                                       glass.diffusivity_m2_per_s(glass.strain_point.value.in_K()));
}

StageEstimate estimate_rates(const Casting& casting, const Limits& limits) {
  const Glass& glass = casting.glass;
  const Shape shape = casting.governing_shape();
  const EquivalentSlabs equivalents = equivalent_slabs(casting);
  const double strain_K = glass.strain_point.value.in_K();
  const double biaxial = glass.biaxial_stress_Pa_per_K();
  const double grade_Pa =
      stress::stress_of_retardation_Pa(glass.stress_optical_per_Pa.value, limits.grade);
  const double left_per_rate_Pa =
      estimate_permanent_Pa(glass, equivalents.permanent_tension, Rate::from_K_per_s(1.0));
  const double run_out_K_per_s =
      stress::rate_of_surface_tension_K_per_s(
          limits.tension.in_Pa(),
          biaxial,
          0.5 * equivalents.steady_difference.in_m(),
          glass.diffusivity_m2_per_s(strain_K - stress::setting_below_strain_K)) /
      stress::surface_tension_factor(shape);
  return {.setting = Rate::from_K_per_s(std::min(grade_Pa / left_per_rate_Pa, run_out_K_per_s)),
          .run_out = Rate::from_K_per_s(run_out_K_per_s)};
}

}  // namespace thickset

#include "checking/treatments.h"

namespace thickset {

Treatments compare_treatments(const Casting& casting,
                              const Kiln& kiln,
                              Controller::LateOnCooling late,
                              const Program& program,
                              const Firing& firing) {
  return compare_treatments(casting, [&](const Casting& changed, Bulk bulk) {
    return measure(changed, kiln, late, program, firing, {.bulk = bulk});
  });
}

Treatments compare_treatments(const Casting& casting, const MeasureCasting& measure_casting) {
  Treatments result;
  double own_mid_Pa = 0.0;
  for (const Bulk bulk : {Bulk::relaxing, Bulk::elastic, Bulk::constant_ratio}) {
    const Measured run = measure_casting(casting, bulk);
    result.outcomes.push_back({.bulk = bulk,
                               .retardation = run.permanent.retardation,
                               .mid_Pa = run.permanent.mid_Pa,
                               .peak_tension_Pa = run.peak_tension_Pa});
    if (bulk == casting.glass.relaxation.bulk) own_mid_Pa = run.permanent.mid_Pa;
  }
  Casting without = casting;
  without.glass.liquid_expansion_per_K.value = without.glass.expansion_per_K.value;
  const double without_Pa =
      measure_casting(without, casting.glass.relaxation.bulk).permanent.mid_Pa;
  if (own_mid_Pa > 0.0) result.structural_share = 1.0 - without_Pa / own_mid_Pa;
  return result;
}

}  // namespace thickset

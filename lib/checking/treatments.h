#pragma once

#include "checking/measure.h"

#include <vector>

namespace thickset {

/// What a run would leave under each treatment of the bulk, and how much of it is structural.
struct Treatments {
  struct Outcome {
    Bulk bulk;
    Retardation retardation;
    double mid_Pa;
    double peak_tension_Pa;
  };
  std::vector<Outcome> outcomes;  ///< relaxing, elastic, constant ratio
  double structural_share = 0.0;  ///< of the permanent stress, with the glass's own treatment
};

/// Runs a program under all three treatments, and without structural relaxation.
Treatments compare_treatments(const Casting& casting,
                              const Kiln& kiln,
                              Controller::LateOnCooling late,
                              const Program& program,
                              const Firing& firing);

/// The same for whatever a course is measured by.
Treatments compare_treatments(const Casting& casting, const MeasureCasting& measure_casting);

}  // namespace thickset

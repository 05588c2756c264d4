#pragma once

#include <Eigen/Core>

#include "conduction/solve.h"
#include "simulation/solid_model.h"
#include "stress/relaxing_body.h"

namespace thickset {

/// The temperatures of the glass alone in a solver's steps: those of its walls left out.
class GlassCourse {
 public:
  explicit GlassCourse(const SolidModel& model);

  /// The last step; it looks at the solver and at this, and holds until either goes on.
  stress::RelaxingBody::Course of(const conduction::Solver& solver);

 private:
  Eigen::Index first_, count_;
  bool bare_;
  Eigen::ArrayXd before_K_, after_K_, slope_before_K_per_s_, slope_after_K_per_s_;
};

}  // namespace thickset

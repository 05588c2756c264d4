#include "simulation/glass_course.h"

namespace thickset {

GlassCourse::GlassCourse(const SolidModel& model)
    : first_{model.body().first_glass()},
      count_{model.body().glass_nodes()},
      bare_{model.body().nodes() == model.body().glass_nodes()} {
  if (bare_) return;
  for (Eigen::ArrayXd* values :
       {&before_K_, &after_K_, &slope_before_K_per_s_, &slope_after_K_per_s_}) {
    values->setZero(count_);
  }
}

stress::RelaxingBody::Course GlassCourse::of(const conduction::Solver& solver) {
  const double dt_s = solver.time_s() - solver.before_s();
  if (bare_) {
    return {.before_K = solver.T_before_K(),
            .after_K = solver.T_K(),
            .slope_before_K_per_s = solver.slope_before_K_per_s(),
            .slope_after_K_per_s = solver.slope_K_per_s(),
            .dt_s = dt_s};
  }
  before_K_ = solver.T_before_K().segment(first_, count_);
  after_K_ = solver.T_K().segment(first_, count_);
  slope_before_K_per_s_ = solver.slope_before_K_per_s().segment(first_, count_);
  slope_after_K_per_s_ = solver.slope_K_per_s().segment(first_, count_);
  return {.before_K = before_K_,
          .after_K = after_K_,
          .slope_before_K_per_s = slope_before_K_per_s_,
          .slope_after_K_per_s = slope_after_K_per_s_,
          .dt_s = dt_s};
}

}  // namespace thickset

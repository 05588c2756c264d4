#include "simulation/section.h"

#include "conduction/solve.h"
#include "simulation/simulate.h"

namespace thickset {

bool both_sides_alike(const Casting& casting, const Kiln& kiln) {
  return SolidModel{casting, kiln, Respect::steady_difference}.symmetric();
}

Section section_at(const Casting& casting,
                   const Kiln& kiln,
                   const AirCurve& air,
                   Temperature start,
                   Respect respect,
                   double time_s) {
  constexpr double same_s = 1e-6;  // times that differ by less are one
  const SolidModel model{casting, kiln, respect};
  const conduction::Body& body = model.body();
  conduction::Solver solver{body,
                            model.inner(),
                            model.outer(),
                            air,
                            Eigen::ArrayXd::Constant(body.nodes(), start.in_K()),
                            {.tolerance_K = SimulationSettings{}.tolerance_K}};
  while (solver.time_s() < time_s - same_s && solver.advance()) {
  }
  const Eigen::Index first = body.first_glass();
  const Eigen::Index count = body.glass_nodes();
  const auto copy = [](const auto& values) {
    return std::vector<double>(values.begin(), values.end());
  };
  return {.time_s = solver.time_s(),
          .position_m = copy(model.glass().position_m()),
          .T_K = copy(solver.T_K().segment(first, count))};
}

}  // namespace thickset

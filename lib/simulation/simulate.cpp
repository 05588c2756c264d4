#include "simulation/simulate.h"

#include <algorithm>
#include <cmath>

#include "conduction/solve.h"
#include "simulation/glass_course.h"
#include "simulation/solid_model.h"
#include "stress/elastic.h"
#include "stress/relaxing_body.h"

namespace thickset {
namespace {

using conduction::Body;

/// Largest |y| over a step whose ends have values y0, y1 and slopes s0, s1 (per step): the cubic
/// through them, at its ends and its turning points.
double largest_of_cubic(double y0, double s0, double y1, double s1) {
  double largest = std::max(std::abs(y0), std::abs(y1));
  const double a = 3.0 * (2.0 * (y0 - y1) + s0 + s1);
  const double b = 2.0 * (3.0 * (y1 - y0) - 2.0 * s0 - s1);
  const double c = s0;
  const auto try_at = [&](double x) {
    if (!(x > 0.0 && x < 1.0)) return;
    const double y = y0 + x * (c + x * (0.5 * b + x * a / 3.0));
    largest = std::max(largest, std::abs(y));
  };
  const double discriminant = b * b - 4.0 * a * c;
  if (discriminant < 0.0) return largest;
  const double q = -0.5 * (b + std::copysign(std::sqrt(discriminant), b));
  if (a != 0.0) try_at(q / a);
  if (q != 0.0) try_at(c / q);
  return largest;
}

History::Profile profile_of(const stress::RelaxingBody& body) {
  const auto copy = [](const Eigen::ArrayXd& values) {
    return std::vector<double>(values.begin(), values.end());
  };
  return {.position_m = copy(body.position_m()),
          .stress_Pa = copy(body.stress_Pa()),
          .fictive_K = copy(body.fictive_K())};
}

}  // namespace

History simulate(const Casting& casting,
                 const Kiln& kiln,
                 const AirCurve& air,
                 Temperature start,
                 Respect respect,
                 const SimulationSettings& settings) {
  const Glass& glass = casting.glass;
  const SolidModel model{casting, kiln, respect, settings.nodes};
  const Body& body = model.glass();
  const Eigen::Index nodes = body.nodes();
  conduction::Solver solver{model.body(),
                            model.inner(),
                            model.outer(),
                            air,
                            Eigen::ArrayXd::Constant(model.body().nodes(), start.in_K()),
                            {.tolerance_K = settings.tolerance_K}};
  GlassCourse glass_course{model};

  const Eigen::Index last = nodes - 1;
  const Eigen::Index slowest = model.slowest();
  const double biaxial_Pa_per_K = glass.biaxial_stress_Pa_per_K();
  const double start_K = start.in_K();
  stress::RelaxationSettings relaxation = settings.relaxation;
  const double fictive_K =
      relaxation.start_fictive_K.value_or(std::max(start_K, glass.strain_point.value.in_K()));
  relaxation.start_fictive_K = fictive_K;
  stress::RelaxingBody relaxing = model.relaxing_body(settings.bulk.value_or(glass.relaxation.bulk),
                                                      Eigen::ArrayXd::Constant(nodes, start_K),
                                                      relaxation);
  History history;
  history.rows.reserve(512);
  history.rows.push_back({.time_s = solver.time_s(),
                          .kiln_K = solver.kiln_K(),
                          .surface_K = start_K,
                          .centre_K = start_K,
                          .mean_K = start_K,
                          .largest_difference_K = 0.0,
                          .surface_Pa = 0.0,
                          .centre_Pa = 0.0,
                          .tension_Pa = 0.0,
                          .surface_fictive_K = fictive_K,
                          .centre_fictive_K = fictive_K,
                          .elastic_surface_Pa = 0.0,
                          .elastic_compression_Pa = 0.0,
                          .staying_Pa = 0.0,
                          .curvature_per_m = 0.0,
                          .step = air.corners.front().step});
  while (solver.advance()) {
    const stress::RelaxingBody::Course course = glass_course.of(solver);
    const Eigen::ArrayXd& T_K = course.after_K;
    const Eigen::ArrayXd& slope_before = course.slope_before_K_per_s;
    const Eigen::ArrayXd& slope = course.slope_after_K_per_s;
    const double largest_K =
        largest_of_cubic(course.before_K(slowest) - course.before_K(last),
                         (slope_before(slowest) - slope_before(last)) * course.dt_s,
                         T_K(slowest) - T_K(last),
                         (slope(slowest) - slope(last)) * course.dt_s);
    relaxing.advance(course);
    history.net_stress_Pa = std::max(history.net_stress_Pa, std::abs(relaxing.net_stress_Pa()));
    const stress::ElasticStress elastic =
        stress::elastic_stress(body, T_K, biaxial_Pa_per_K, model.support(), model.symmetric());
    history.rows.push_back(
        {.time_s = solver.time_s(),
         .kiln_K = solver.kiln_K(),
         .surface_K = T_K(last),
         .centre_K = T_K(slowest),
         .mean_K = body.mean(T_K),
         .largest_difference_K = largest_K,
         .surface_Pa = relaxing.surface_Pa(),
         .centre_Pa = relaxing.centre_Pa(),
         .tension_Pa = std::max(relaxing.peak_tension_Pa(),
                                model.surface_tension_factor() * relaxing.peak_surface_Pa()),
         .surface_fictive_K = relaxing.surface_fictive_K(),
         .centre_fictive_K = relaxing.fictive_K_at(slowest),
         .elastic_surface_Pa = elastic.surface_Pa,
         .elastic_compression_Pa = elastic.largest_compression_Pa,
         .staying_Pa = relaxing.centre_axial_Pa() - elastic.centre_Pa,
         .curvature_per_m = relaxing.curvature_per_m(),
         .step = air.corners[solver.corner()].step});
  }
  history.heat_balance_error = solver.heat_balance_error();
  history.profile = profile_of(relaxing);
  return history;
}

}  // namespace thickset

#include "simulation/simulate.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "conduction/solve.h"
#include "stress/elastic.h"
#include "stress/relaxing_body.h"
#include "stress/surface_tension.h"

namespace thickset {
namespace {

using conduction::Body;
using conduction::Face;
using conduction::Solid;

struct Model {
  Solid solid;
  double extent_m;
  double exchange_factor = 1.0;
  stress::Support support = stress::Support::free;
  bool symmetric = true;
  double surface_tension_factor = 1.0;  ///< what the shape's surface has more than the slab's
};

Length slab_for(const EquivalentSlabs& equivalents, Respect respect) {
  switch (respect) {
    case Respect::steady_difference: return equivalents.steady_difference;
    case Respect::slowest_mode: return equivalents.slowest_mode;
    case Respect::permanent_tension: return equivalents.permanent_tension;
  }
  return equivalents.steady_difference;
}

Model model_of(const Shape& shape, Respect respect) {
  if (const auto* rod = std::get_if<Rod>(&shape)) {
    return {.solid = Solid::cylinder, .extent_m = 0.5 * rod->diameter.in_m()};
  }
  if (const auto* ball = std::get_if<Ball>(&shape)) {
    return {.solid = Solid::sphere, .extent_m = 0.5 * ball->diameter.in_m()};
  }
  if (const auto* slab = std::get_if<Slab>(&shape)) {
    const double thickness_m = slab->thickness.in_m();
    if (slab->faces == Faces::both) return {.solid = Solid::slab, .extent_m = 0.5 * thickness_m};
    return {
        .solid = Solid::slab,
        .extent_m = thickness_m,
        .support = slab->faces == Faces::one_held ? stress::Support::held : stress::Support::free,
        .symmetric = false};
  }
  const EquivalentSlabs equivalents = equivalent_slabs(shape);
  const double half_m = 0.5 * slab_for(equivalents, respect).in_m();
  return {.solid = Solid::slab,
          .extent_m = half_m,
          .exchange_factor = half_m / volume_to_surface(shape).in_m(),
          .surface_tension_factor = stress::surface_tension_factor(shape)};
}

int default_nodes(const Model& model) {
  const bool half_a_slab = model.solid == Solid::slab && model.symmetric;
  return half_a_slab ? nodes_of_half_a_slab : nodes_of_other_solids;
}

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
  const Model model = model_of(casting.governing_shape(), respect);
  const int nodes = settings.nodes.value_or(default_nodes(model));
  const Body body{model.solid,
                  model.extent_m,
                  nodes,
                  glass.conductivity_W_per_m_K.value,
                  glass.heat_capacity_J_per_kg_K.value,
                  glass.density_kg_per_m3.value};
  Face outer = Face::exchange(kiln.film_coefficient_W_per_m2_K, kiln.emissivity);
  outer.exchange_factor = model.exchange_factor;
  conduction::Solver solver{body,
                            Face::insulated(),
                            outer,
                            air,
                            Eigen::ArrayXd::Constant(nodes, start.in_K()),
                            {.tolerance_K = settings.tolerance_K}};

  const Eigen::Index last = nodes - 1;
  const double biaxial_Pa_per_K = glass.biaxial_stress_Pa_per_K();
  RelaxationLaw law = glass.relaxation;
  law.bulk = settings.bulk.value_or(law.bulk);
  stress::RelaxingBody relaxing{body,
                                law,
                                {.shear_modulus_Pa = glass.shear_modulus_Pa(),
                                 .poisson_ratio = glass.poisson_ratio.value,
                                 .expansion_per_K = glass.expansion_per_K.value,
                                 .liquid_expansion_per_K = glass.liquid_expansion_per_K.value},
                                model.support,
                                model.symmetric,
                                solver.T_K(),
                                settings.relaxation};
  History history;
  history.rows.reserve(512);
  const double start_K = start.in_K();
  history.rows.push_back({.time_s = solver.time_s(),
                          .kiln_K = solver.kiln_K(),
                          .surface_K = start_K,
                          .centre_K = start_K,
                          .mean_K = start_K,
                          .largest_difference_K = 0.0,
                          .surface_Pa = 0.0,
                          .centre_Pa = 0.0,
                          .tension_Pa = 0.0,
                          .surface_fictive_K = start_K,
                          .centre_fictive_K = start_K,
                          .elastic_surface_Pa = 0.0,
                          .elastic_compression_Pa = 0.0,
                          .step = air.corners.front().step});
  while (solver.advance()) {
    const Eigen::ArrayXd& T_K = solver.T_K();
    const double dt_s = solver.time_s() - solver.before_s();
    const double difference_before_K = solver.T_before_K()(0) - solver.T_before_K()(last);
    const Eigen::ArrayXd& slope_before = solver.slope_before_K_per_s();
    const Eigen::ArrayXd& slope = solver.slope_K_per_s();
    const double largest_K = largest_of_cubic(difference_before_K,
                                              (slope_before(0) - slope_before(last)) * dt_s,
                                              T_K(0) - T_K(last),
                                              (slope(0) - slope(last)) * dt_s);
    relaxing.advance({.before_K = solver.T_before_K(),
                      .after_K = T_K,
                      .slope_before_K_per_s = slope_before,
                      .slope_after_K_per_s = slope,
                      .dt_s = dt_s});
    history.net_stress_Pa = std::max(history.net_stress_Pa, std::abs(relaxing.net_stress_Pa()));
    const stress::ElasticStress elastic =
        stress::elastic_stress(body, T_K, biaxial_Pa_per_K, model.support, model.symmetric);
    history.rows.push_back(
        {.time_s = solver.time_s(),
         .kiln_K = solver.kiln_K(),
         .surface_K = T_K(last),
         .centre_K = T_K(0),
         .mean_K = body.mean(T_K),
         .largest_difference_K = largest_K,
         .surface_Pa = relaxing.surface_Pa(),
         .centre_Pa = relaxing.centre_Pa(),
         .tension_Pa = std::max(relaxing.peak_tension_Pa(),
                                model.surface_tension_factor * relaxing.peak_surface_Pa()),
         .surface_fictive_K = relaxing.surface_fictive_K(),
         .centre_fictive_K = relaxing.centre_fictive_K(),
         .elastic_surface_Pa = elastic.surface_Pa,
         .elastic_compression_Pa = elastic.largest_compression_Pa,
         .step = air.corners[solver.corner()].step});
  }
  history.heat_balance_error = solver.heat_balance_error();
  history.profile = profile_of(relaxing);
  return history;
}

}  // namespace thickset

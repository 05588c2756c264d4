#include "bench/ours.h"

#include <Eigen/Core>

#include "bench/peaks.h"
#include "conduction/solve.h"
#include "simulation/simulate.h"
#include "stress/relaxing_body.h"

namespace thickset::bench::ours {
namespace {

conduction::Body body_of(const Slab& slab, int nodes) {
  constexpr double coldest_K = 150.0;
  constexpr double hottest_K = 1500.0;
  return {conduction::Solid::slab,
          slab.half_thickness_m,
          nodes,
          ThermalLaw{{{.from_K = coldest_K,
                       .to_K = hottest_K,
                       .a = slab.conductivity_W_per_m_K,
                       .b = slab.conductivity_slope_W_per_m_K2}}},
          ThermalLaw{{{.from_K = coldest_K,
                       .to_K = slab.capacity_jumps_at_K,
                       .a = slab.cool_a,
                       .b = slab.cool_b,
                       .c = slab.cool_c},
                      {.from_K = slab.capacity_jumps_at_K,
                       .to_K = hottest_K,
                       .a = slab.hot_a,
                       .b = slab.hot_b}}},
          slab.density_kg_per_m3};
}

AirCurve air_of_course() {
  AirCurve air;
  int step = -1;
  for (const Corner& corner : course())
    air.corners.push_back({corner.time_s, corner.kiln_K, step++});
  return air;
}

Slab slab_of(const Settings& settings) {
  Slab slab;
  slab.half_thickness_m = settings.half_thickness_m;
  return slab;
}

/// What both workloads solve first.
struct Cooling {
  Cooling(const Slab& slab, const Settings& settings)
      : body{body_of(slab, settings.nodes)},
        start_K{Eigen::ArrayXd::Constant(settings.nodes, slab.start_K)},
        solver{body,
               conduction::Face::insulated(),
               conduction::Face::exchange(slab.film_W_per_m2_K, slab.emissivity),
               air,
               start_K,
               {.tolerance_K = settings.tolerance_K}} {}
  Cooling(const Cooling&) = delete;
  Cooling& operator=(const Cooling&) = delete;

  conduction::Body body;
  AirCurve air = air_of_course();
  Eigen::ArrayXd start_K;
  conduction::Solver solver;
};

}  // namespace

Settings default_settings() {
  return {.nodes = nodes_of_half_a_slab, .tolerance_K = SimulationSettings{}.tolerance_K};
}

SixPeaks peaks_K(const Settings& settings) {
  Cooling cooling{slab_of(settings), settings};
  conduction::Solver& solver = cooling.solver;
  const Eigen::Index surface = settings.nodes - 1;
  const auto difference_K = [&] { return solver.T_K()(0) - solver.T_K()(surface); };
  const auto across = [&](const Eigen::ArrayXd& slope_K_per_s) {
    return slope_K_per_s(0) - slope_K_per_s(surface);
  };
  SixPeaks peaks{};
  Peak peak{difference_K(), 0.0};
  std::size_t stretch = 0;
  while (solver.advance()) {
    if (solver.corner() - 1 != stretch) {
      stretch = solver.corner() - 1;
      peak.restart();
    }
    peak.step(solver.time_s() - solver.before_s(),
              across(solver.slope_before_K_per_s()),
              difference_K(),
              across(solver.slope_K_per_s()));
    peaks[stretch] = peak.largest_K();
  }
  return peaks;
}

int steps(const Settings& settings) {
  Cooling cooling{slab_of(settings), settings};
  int taken = 0;
  while (cooling.solver.advance()) ++taken;
  return taken;
}

double retardation_nm_per_cm(const Settings& settings) {
  const Relaxation relaxation;
  Cooling cooling{slab_of(settings), settings};
  RelaxationLaw law;
  law.bulk = Bulk::constant_ratio;
  law.reference_K = relaxation.reference_K;
  law.activation_K = relaxation.activation_K;
  law.x = relaxation.x;
  law.spectrum.structure = relaxation.structure_weight;
  law.spectrum.structure_s = relaxation.structure_s;
  law.spectrum.shear_GPa = relaxation.shear_weight_GPa;
  law.spectrum.shear_s = relaxation.shear_s;
  const stress::StressConstants constants{
      .shear_modulus_Pa = relaxation.youngs_modulus_Pa / (2.0 * (1.0 + relaxation.poisson_ratio)),
      .poisson_ratio = relaxation.poisson_ratio,
      .expansion_per_K = relaxation.expansion_per_K,
      .liquid_expansion_per_K = relaxation.liquid_expansion_per_K};
  stress::RelaxingBody relaxing{
      cooling.body, law, constants, stress::Support::free, true, cooling.start_K};
  conduction::Solver& solver = cooling.solver;
  while (solver.advance()) {
    relaxing.advance({.before_K = solver.T_before_K(),
                      .after_K = solver.T_K(),
                      .slope_before_K_per_s = solver.slope_before_K_per_s(),
                      .slope_after_K_per_s = solver.slope_K_per_s(),
                      .dt_s = solver.time_s() - solver.before_s()});
  }
  return relaxing.centre_Pa() * relaxation.nm_per_cm_per_Pa;
}

}  // namespace thickset::bench::ours

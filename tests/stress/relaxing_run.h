#pragma once

#include <algorithm>
#include <cmath>

#include "conduction/solve.h"
#include "stress/relaxing_body.h"

/// A body cooled along a kiln's curve with structure and stress relaxing, for tests.
namespace thickset::relaxing {

struct Case {
  conduction::Solid solid = conduction::Solid::slab;
  double extent_m = 0.025;
  ThermalLaw conductivity = ThermalLaw::constant(1.2);
  ThermalLaw heat_capacity = ThermalLaw::constant(1100.0);
  double density_kg_per_m3 = 2500.0;
  conduction::Face outer = conduction::Face::prescribed();
  RelaxationLaw law{};
  stress::StressConstants constants{.shear_modulus_Pa = 70e9 / 2.44,
                                    .poisson_ratio = 0.22,
                                    .expansion_per_K = 9.2e-6,
                                    .liquid_expansion_per_K = 32e-6};
  stress::Support support = stress::Support::free;
  bool symmetric = true;
  Eigen::Index nodes = 21;
  double tolerance_K = 0.02;
  double longest_change_K = stress::RelaxationSettings{}.longest_change_K;
};

struct Left {
  double surface_MPa, centre_MPa;
  double largest_tension_MPa, largest_surface_MPa;
  double fictive_C;
  double net_Pa;
  double uneven_K;
};

inline Left run(const Case& c, const AirCurve& air) {
  const conduction::Body body{
      c.solid, c.extent_m, c.nodes, c.conductivity, c.heat_capacity, c.density_kg_per_m3};
  const Eigen::ArrayXd start_K = Eigen::ArrayXd::Constant(c.nodes, air.corners.front().T_K);
  conduction::Solver solver{
      body, conduction::Face::insulated(), c.outer, air, start_K, {.tolerance_K = c.tolerance_K}};
  stress::RelaxingBody relaxing{body,
                                c.law,
                                c.constants,
                                c.support,
                                c.symmetric,
                                start_K,
                                {.longest_change_K = c.longest_change_K}};
  Left left{};
  while (solver.advance()) {
    relaxing.advance({.before_K = solver.T_before_K(),
                      .after_K = solver.T_K(),
                      .slope_before_K_per_s = solver.slope_before_K_per_s(),
                      .slope_after_K_per_s = solver.slope_K_per_s(),
                      .dt_s = solver.time_s() - solver.before_s()});
    left.largest_tension_MPa =
        std::max(left.largest_tension_MPa, relaxing.peak_tension_Pa() * 1e-6);
    left.largest_surface_MPa =
        std::max(left.largest_surface_MPa, relaxing.peak_surface_Pa() * 1e-6);
    left.net_Pa = std::max(left.net_Pa, std::abs(relaxing.net_stress_Pa()));
  }
  left.surface_MPa = relaxing.surface_Pa() * 1e-6;
  left.centre_MPa = relaxing.centre_Pa() * 1e-6;
  left.fictive_C = relaxing.centre_fictive_K() - 273.15;
  left.uneven_K = solver.T_K()(0) - solver.T_K()(c.nodes - 1);
  return left;
}

/// From 600 C to 20 C at a constant rate, then time to even out.
inline AirCurve constant_rate(double rate_K_per_h, double extent_m, double even_h = 0.0) {
  const double ramp_s = 580.0 / rate_K_per_h * 3600.0;
  const double wait_s =
      even_h > 0.0 ? even_h * 3600.0 : 3600.0 * 16000.0 * extent_m * extent_m + 3600.0;
  return {{{0.0, 873.15, -1}, {ramp_s, 293.15, 0}, {ramp_s + wait_s, 293.15, 1}}};
}

/// E alpha R L^2 / (3 kappa (1 - nu)), the elastic surface stress of a steady ramp.
inline double classical_surface_MPa(const Case& c, double rate_K_per_h) {
  const double diffusivity =
      c.conductivity.at(700.0) / (c.density_kg_per_m3 * c.heat_capacity.at(700.0));
  return 70e9 * c.constants.expansion_per_K * rate_K_per_h / 3600.0 * c.extent_m * c.extent_m /
         (3.0 * diffusivity * (1.0 - 0.22)) * 1e-6;
}

}  // namespace thickset::relaxing

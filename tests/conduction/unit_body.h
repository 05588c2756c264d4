#pragma once

#include <Eigen/Core>

#include "conduction/body.h"
#include "kiln/follow.h"

/// Bodies with constant properties and plain kiln curves for the checks.
namespace unit_body {

using thickset::AirCurve;
using thickset::ThermalLaw;
using thickset::conduction::Body;
using thickset::conduction::Solid;

inline constexpr Solid solids[] = {Solid::slab, Solid::cylinder, Solid::sphere};

// Numbers of a glass; with the extent L below the diffusivity is 4e-7 m2/s and L^2/kappa 6250 s.
inline constexpr double k_W_per_m_K = 1.0;
inline constexpr double density_kg_per_m3 = 2500.0;
inline constexpr double heat_capacity_J_per_kg_K = 1000.0;
inline constexpr double diffusivity_m2_per_s =
    k_W_per_m_K / (density_kg_per_m3 * heat_capacity_J_per_kg_K);
inline constexpr double extent_m = 0.05;
inline constexpr double time_unit_s = extent_m * extent_m / diffusivity_m2_per_s;

inline Body constant_body(Solid solid, Eigen::Index nodes) {
  return Body{solid,
              extent_m,
              nodes,
              ThermalLaw::constant(k_W_per_m_K),
              ThermalLaw::constant(heat_capacity_J_per_kg_K),
              density_kg_per_m3};
}

inline Eigen::ArrayXd uniform(const Body& body, double T_K) {
  return Eigen::ArrayXd::Constant(body.nodes(), T_K);
}

inline const char* name(Solid solid) {
  return solid == Solid::slab ? "slab" : solid == Solid::cylinder ? "cylinder" : "sphere";
}

}  // namespace unit_body

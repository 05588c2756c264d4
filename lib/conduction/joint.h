#pragma once

#include <Eigen/Core>

#include "material/thermal_law.h"
#include "material/wall.h"

namespace thickset::conduction {

/// How area grows outwards from the glass, over that of the glass's own surface: the surface at a
/// distance t from a convex body is a parabola in t [STEINER1840].
struct AreaOutward {
  double at_glass = 1.0;  ///< not 1 for a slab that stands for another shape
  double per_m = 0.0;
  double per_m2 = 0.0;

  double at(double distance_m) const {
    return at_glass + distance_m * (per_m + distance_m * per_m2);
  }
  /// Volume between the glass and a distance, over the glass's surface.
  double volume_m(double distance_m) const {
    return distance_m * (at_glass + distance_m * (0.5 * per_m + distance_m * per_m2 / 3.0));
  }
};

/// Where heat passes between two neighbouring nodes of unlike material: half a cell of either, and
/// between them nothing, a poor contact or a gap of air.
///
/// Half cells take the conductivity of their node. Air: conduction, and radiation between two large
/// grey plates; it does not circulate. Source: notes/conduction.md#layers.
struct Joint {
  Eigen::Index left;                 ///< the node inside; the next one is outside
  double area;                       ///< over the glass's surface
  double left_half_m, right_half_m;  ///< of solid between node and joint; 0 for a node at the joint
  double resistance_m2_K_per_W = 0.0;
  double air_m = 0.0;                             ///< then both nodes are at the joint
  std::size_t left_region = 0, right_region = 0;  ///< of the body

  /// Heat from right to left, W/m2 of the glass's surface, and its derivatives.
  struct Flow {
    double into_left_W_per_m2, by_left_W_per_m2_K, by_right_W_per_m2_K;
  };
  Flow flow(const ThermalLaw& left_conductivity,
            const ThermalLaw& right_conductivity,
            double left_K,
            double right_K) const;
};

/// Of still air at atmospheric pressure, W/(m K). Source: [INC07] table A.4, from memory.
const ThermalLaw& air_conductivity_W_per_m_K();

/// Of two surfaces of emissivity 0.9, which is assumed: 1 / (2/0.9 - 1).
inline constexpr double gap_emissivity = 1.0 / (2.0 / 0.9 - 1.0);

}  // namespace thickset::conduction

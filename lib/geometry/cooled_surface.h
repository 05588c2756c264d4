#pragma once

#include <functional>

#include <Eigen/Core>

namespace thickset {

/// How heat leaves a solid at one place of its surface: u + length du/dn = level there, n outwards.
struct Cooling {
  enum class Kind {
    exposed,      ///< u = 0: the surface follows the kiln
    insulated,    ///< du/dn = 0; also a plane of symmetry
    behind_wall,  ///< a wall takes up part of the difference
  };
  Kind kind = Kind::exposed;
  // Of a wall:
  double length_m = 0.0;  ///< conductivity of the glass * thermal resistance, > 0
  double level_m2 = 0.0;  ///< u that its own falling temperature leaves at its inner face
  double heat_m = 0.0;    ///< as much glass as holds its heat, on each area; for the slowest mode

  static Cooling exposed() { return {}; }
  static Cooling insulated() { return {.kind = Kind::insulated}; }
  static Cooling behind_wall(double length_m, double level_m2 = 0.0, double heat_m = 0.0) {
    return {Kind::behind_wall, length_m, level_m2, heat_m};
  }
};

/// Says it for a place and the outward normal there. Empty: exposed all round.
using CoolingAt =
    std::function<Cooling(const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal)>;

}  // namespace thickset

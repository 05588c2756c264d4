#pragma once

#include <functional>

#include <Eigen/Core>

namespace thickset {

/// How heat leaves a solid at one place of its surface: u + length du/dn = 0 there, n outwards.
struct Cooling {
  enum class Kind {
    exposed,      ///< u = 0: the surface follows the kiln
    insulated,    ///< du/dn = 0; also a plane of symmetry
    behind_wall,  ///< a wall takes up part of the difference
  };
  Kind kind = Kind::exposed;
  double length_m = 0.0;  ///< of a wall: conductivity of the glass * thermal resistance, > 0

  static Cooling exposed() { return {}; }
  static Cooling insulated() { return {Kind::insulated, 0.0}; }
  static Cooling behind_wall(double length_m) { return {Kind::behind_wall, length_m}; }
};

/// Says it for a place and the outward normal there. Empty: exposed all round.
using CoolingAt =
    std::function<Cooling(const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal)>;

}  // namespace thickset

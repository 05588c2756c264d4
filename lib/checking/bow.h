#pragma once

#include "checking/measure.h"
#include "simulation/casting.h"

#include <optional>

namespace thickset {

/// How far a slab that is free to bend bows, from when the hold ends: taken as flat then, since
/// before it glass is soft enough to lie flat by its own weight.
///
/// Curvatures are above 0 where the face that cools better is hollow. A piece of length l stands
/// off a straight edge by curvature l^2 / 8 in its middle. Its weight, a mould that touches it and
/// what it is joined to are not in it.
/// Source: notes/stress.md#bow.
struct Bow {
  double largest_per_m = 0.0;  ///< of the largest magnitude after the hold
  double largest_at_s = 0.0;   ///< from the program's start
  double kiln_then_K = 0.0;
  double left_per_m = 0.0;  ///< when all is at the room's temperature
};

/// nullopt: the casting cools alike from both faces, is held flat, or is no slab.
std::optional<Bow> bow(const Casting& casting, const Measured& measured);

/// Of a piece this long.
inline double deflection_m(double curvature_per_m, double length_m) {
  return curvature_per_m * length_m * length_m / 8.0;
}

}  // namespace thickset

#pragma once

#include "geometry/equivalent_slab.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"

namespace thickset {

/// How a kiln takes heat from a face.
struct Exchange {
  double film_coefficient_W_per_m2_K = 8.0;  ///< where no kiln is named
  double emissivity = 0.9;
  static Exchange with(const Kiln& kiln) {
    return {kiln.film_coefficient_W_per_m2_K, kiln.emissivity};
  }
};

/// A plane wall seen from the glass in steady cooling at rate R: its inner face is above the kiln
/// by q resistance + R own_drop, q the heat that the glass gives off; it ends with the exchange, or
/// where it is insulated.
struct PlaneWall {
  double resistance_m2_K_per_W, own_drop_s;
  double own_heat_J_per_m2_K;
};
PlaneWall plane_wall(const Wall& wall, const Exchange& exchange, Temperature at);

/// A casting, its walls and the kiln cooling at one rate for long, by closed form: each lag is in
/// seconds, K for each K/s.
///
/// Properties and radiation at one temperature. Other shapes than slab, rod and ball: of the slab
/// of the same steady difference, its walls scaled as in the simulation.
/// Source: notes/conduction.md#steady-cooling.
struct SteadyCooling {
  double slowest_to_surface_s;  ///< slowest glass above the surface that cools better
  double surface_to_kiln_s;     ///< that surface above the kiln
  double behind_kiln_s() const { return slowest_to_surface_s + surface_to_kiln_s; }

  // Of a slab whose faces differ, from the face that cools worse:
  double slowest_from_other_m = 0.0;  ///< where the slowest glass is
  double level_from_other_m = 0.0;    ///< where no heat flows; below 0 where a heavy wall on that
                                      ///< face gives heat to the glass
  bool top_cools_better = true;
};
SteadyCooling steady_cooling(const Casting& casting, const Exchange& exchange, Temperature at);

/// The shape's own slabs; where the faces of a slab differ, those of what it does then, with the
/// exchange of a kiln that is not named: an estimate.
///
/// With x where no heat flows: steady difference 2 (d - x), permanent tension d free to bend and
/// sqrt(d^2 + 12 (d/2 - x)^2) held flat; slowest mode as the steady difference. For x below 0 as in
/// the notes.
/// Source: notes/conduction.md#steady-cooling.
EquivalentSlabs equivalent_slabs(const Casting& casting);

/// Centre less surface is R u / diffusivity in steady cooling at rate R: u of the governing shape,
/// or (d - x)^2 / 2 where the faces of a slab differ, less x^2 / 2 for x below 0.
double poisson_maximum_m2(const Casting& casting);

}  // namespace thickset

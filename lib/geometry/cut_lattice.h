#pragma once

#include "geometry/cooled_surface.h"
#include "geometry/region.h"
#include "numerics/lattice_problem.h"

namespace thickset {

/// A solid on a lattice of cubes, one node in the middle of each, with what its surface does to
/// the links between nodes.
struct CutLattice {
  LatticeProblem problem;     ///< for -Laplace(u) = 1, u in units of spacing^2
  ZeroedArray<float> filled;  ///< its right side: the share of each node's cell
  /// Largest u of the slab as thick as the solid is at each node, along the axis where that is
  /// least; in spacing^2.
  ZeroedArray<float> slab_maximum;
  Eigen::Vector3d origin_m;  ///< place of node (0, 0, 0)
  double spacing_m;
  double volume_m3;   ///< from the lengths of lines inside, of second order or better
  double unresolved;  ///< share of the volume in pieces of lines that hold no node

  Eigen::Vector3d place_m(std::ptrdiff_t node) const;
};

/// Lays a lattice over a region.
///
/// In:     cells as in lattice_over; CoolingAt may be empty.
/// Out:    exposed surfaces end the links that cross them, at their place (symmetric ghost fluid);
///         insulated ones and walls cut cells by planes (finite volumes). Both second order.
/// Error:  pieces thinner than a cell can be lost, see `unresolved`; where three planes that do not
///         conduct meet, cells are cut by the product of their shares.
/// Throws: Error as lattice_over, and when a line crosses the surface an odd number of times or
///         outside the box, no node lies inside, a wall's length is not positive and finite, or a
///         piece of the solid is insulated all round.
/// Source: [GFCK02] (exposed), [NMG09] (insulated), [PGR10] (wall); notes/field.md.
CutLattice cut_lattice(const Region& region, const CoolingAt& cooling_at, double cells);

/// The same lattice with the filled share of every cell that the surface cuts, whatever cools it.
CutLattice filled_lattice(const Region& region, double cells);

}  // namespace thickset

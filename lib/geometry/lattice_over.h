#pragma once

#include <Eigen/Core>

#include "geometry/region.h"
#include "numerics/lattice.h"

namespace thickset {

/// Where the nodes of a lattice lie.
struct PlacedLattice {
  Lattice lattice;
  Eigen::Vector3d origin_m;  ///< node (0, 0, 0)
  double spacing_m;
};

/// A lattice whose cubic cells cover a box, a node in the middle of each and one layer of nodes
/// around them all.
///
/// In:     cells, about how many, 1000 to 4e7 (2 GB for a field).
/// Out:    a whole number of cells across where the box is thinnest; the middle of the box is that
///         of the lattice.
/// Throws: Error when the box is empty or not finite, when `cells` is out of range, or leaves less
///         than two cells across the box.
PlacedLattice lattice_over(const Region::Box& box, double cells);

}  // namespace thickset

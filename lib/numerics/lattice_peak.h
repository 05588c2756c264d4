#pragma once

#include <Eigen/Core>

#include "numerics/lattice_problem.h"

namespace thickset {

/// The top of a field near the node where it is largest.
struct Peak {
  double value;
  Eigen::Vector3d from_node;  ///< its place, in spacings from the node
};

/// In:     values on the lattice, largest at `node`; the filled share of each node's cell.
/// Out:    top of the paraboloid through the node and its neighbours. Where a link ends the value
///         0 at the end stands for the neighbour. Where neither is, an insulated face lies where
///         the filled share says, and the field is level there. In directions in which the field is
///         level the node's own place is kept.
/// Error:  of fourth order in the spacing for smooth fields with all neighbours, else of second.
/// Throws: nothing.
Peak peak_near(const LatticeProblem& problem,
               const double* values,
               const float* filled,
               std::ptrdiff_t node);

}  // namespace thickset

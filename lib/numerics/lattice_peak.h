#pragma once

#include <Eigen/Core>

#include "numerics/lattice_problem.h"

namespace thickset {

/// The top of a field near the node where it is largest.
struct Peak {
  double value;
  Eigen::Vector3d from_node;  ///< its place, in spacings from the node
};

/// In:     values on the lattice, largest at `node`.
/// Out:    top of the paraboloid through the node and its neighbours. Where a link ends the value
///         0 at the end stands for the neighbour; along an axis with no neighbour (an insulated
///         surface) and in directions in which the field is level the node's own place is kept.
/// Error:  of fourth order in the spacing for smooth fields with all neighbours, else of second.
/// Throws: nothing.
Peak peak_near(const LatticeProblem& problem, const double* values, std::ptrdiff_t node);

}  // namespace thickset

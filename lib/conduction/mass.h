#pragma once

#include <Eigen/Core>

#include "conduction/body.h"
#include "conduction/face.h"

namespace thickset::conduction {

/// How much of each cell's heat each node stands for: row i of the tridiagonal mass matrix M, in m
/// (volume over outer surface), so that the balance of cell i is
///   density sum_j M(i,j) dh_j/dt = heat into cell i.
///
/// Slab: compact rows (1/12, 10/12, 1/12) of the spacing, fourth order where the flow through a
/// cell wall is the difference of its neighbours over the spacing; (1/3, 1/6) at a face that
/// exchanges heat, third order; (5/12, 1/12) at a plane of symmetry, which is what an insulated
/// face is. A prescribed node has no row, and its neighbour stands for its own cell alone: then
/// a jump of the face takes no heat out of the body at once, and the order stays the fourth.
/// Rod and ball: the cell's own volume, second order; layers on the glass likewise.
///
/// The columns sum to weights of an integral (a slab between two faces: Gregory's), so heat is kept
/// exactly. Not monotone: right after a jump of the kiln nodes near a slab's face overshoot by up
/// to 8 % of the jump. Source: [COL66] on compact differences; notes/conduction.md#cells.
struct Mass {
  Eigen::ArrayXd lower, diagonal, upper;

  Mass(const Body& body, Face::Kind inner, Face::Kind outer);

  /// Sum of a nodal quantity over the body by the columns' sums, in m times its unit.
  double total(const Eigen::ArrayXd& value) const { return (column_sum * value).sum(); }
  Eigen::ArrayXd column_sum;
};

}  // namespace thickset::conduction

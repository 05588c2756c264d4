#pragma once

#include <Eigen/Core>

#include "conduction/body.h"

namespace thickset::conduction {

/// How much of each cell's heat each node stands for: row i of the tridiagonal mass matrix M, in m
/// (volume over outer surface), so that the balance of cell i is
///   density sum_j M(i,j) dh_j/dt = heat into cell i.
///
/// Slab: compact rows (1/12, 10/12, 1/12) of the spacing, fourth order where the flow through a
/// cell wall is the difference of its neighbours over the spacing; (1/3, 1/6) at a face that
/// exchanges heat, third order; (5/12, 1/12) at a plane of symmetry. The columns sum to Gregory's
/// weights, so heat is kept exactly. Rod and ball: the cell's own volume, second order.
/// Source: [COL66] on compact differences; notes/conduction.md#cells.
struct Mass {
  Eigen::ArrayXd lower, diagonal, upper;

  Mass(const Body& body, bool inner_face_exchanges);

  /// Sum of a nodal quantity over the body by the columns' sums, in m times its unit.
  double total(const Eigen::ArrayXd& value) const { return (column_sum * value).sum(); }
  Eigen::ArrayXd column_sum;
};

}  // namespace thickset::conduction

#pragma once

#include <Eigen/Core>

namespace thickset {

/// Least 1/2 x'H x + g'x with A x <= b.
struct QuadraticProgram {
  Eigen::MatrixXd H;  ///< n x n, symmetric and positive definite
  Eigen::VectorXd g;  ///< n
  Eigen::MatrixXd A;  ///< m x n, m >= 1
  Eigen::VectorXd b;  ///< m
};

struct QuadraticMinimum {
  Eigen::VectorXd x;
  Eigen::VectorXd multipliers;  ///< one for each row of A, >= 0
};

/// The minimum of a small, dense, convex quadratic program that has a feasible point, by a
/// primal-dual interior-point method.
///
/// Error: complementarity and feasibility to about 1e-9 of the problem's own scale.
/// Source: [NW06] algorithm 16.4.
QuadraticMinimum minimum(const QuadraticProgram& program);

}  // namespace thickset

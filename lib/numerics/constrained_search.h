#pragma once

#include <functional>
#include <utility>

#include <Eigen/Core>

namespace thickset {

/// What one trial of a point costs and by how much it breaks each constraint (<= 0: kept). Both in
/// units in which 1 is a lot.
struct Trial {
  double cost;
  Eigen::VectorXd over;
};

/// How points are tried.
struct Tries {
  std::function<Trial(const Eigen::VectorXd&)> at;
  /// The same, for a point that differs in one variable from the one asked last by `at`; may save
  /// work by that.
  std::function<Trial(const Eigen::VectorXd&)> beside;
};

struct ConstrainedSearch {
  double difference = 0.1;    ///< step of the one-sided differences that slopes are taken from
  double first_reach = 1.5;   ///< longest change of any variable in the first step
  double least_reach = 0.05;  ///< ends when steps have to be shorter
  double tolerance = 3e-4;    ///< ends when a step promises to gain less
  double penalty = 1.5;       ///< cost of breaking a constraint by 1; grows where it is too low
  int most_iterations = 25;
};

struct ConstrainedMinimum {
  Eigen::VectorXd x;
  Trial trial;
  int trials;  ///< that it took
};

/// A local minimum of a smooth function under smooth constraints, a few variables, from trials
/// alone: sequential quadratic programming with slopes by differences, damped BFGS for the
/// curvature, steps within a box, second-order correction, and constraints that may be broken at a
/// price.
///
/// In: start, scaled so that each variable's change by 1 is a large one; curvature, a first guess
///     of the second derivatives of the Lagrangian, symmetric and positive definite.
/// Error: that of slopes taken over `difference`.
/// Source: [NW06] sections 18.3 to 18.5, procedure 18.2.
ConstrainedMinimum constrained_minimum(const Tries& tried,
                                       const Eigen::VectorXd& start,
                                       Eigen::MatrixXd curvature,
                                       const ConstrainedSearch& settings = {});

inline ConstrainedMinimum constrained_minimum(
    const std::function<Trial(const Eigen::VectorXd&)>& tried,
    const Eigen::VectorXd& start,
    Eigen::MatrixXd curvature,
    const ConstrainedSearch& settings = {}) {
  return constrained_minimum(Tries{tried, tried}, start, std::move(curvature), settings);
}

}  // namespace thickset

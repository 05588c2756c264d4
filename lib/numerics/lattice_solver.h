#pragma once

#include <functional>

#include "numerics/multigrid.h"

namespace thickset {

/// Solves lattice problems by conjugate gradients with a multigrid preconditioner, and finds the
/// slowest mode. No allocation after construction.
class LatticeSolver {
 public:
  explicit LatticeSolver(LatticeProblem problem);

  const SevenPoint& matrix() const { return multigrid_.matrix(); }

  struct Outcome {
    int iterations;
    double relative_residual;  ///< |b - A x| / |b|, as the iteration carries it along
    bool reached;              ///< the residual asked for
  };
  /// Told after each iteration how far the residual has come.
  /// Square root of the sum of squares.
  double length_of(const float* b) const;

  using Told = std::function<void(int iteration, double relative_residual)>;

  /// Solves A x = b. In: b, 0 where there is no unknown. Out: x, from 0.
  /// Error: relative_residual_tol >= |b - A x| / |b|, unless the outcome says not reached.
  /// Source: [SAAD03] algorithm 9.1.
  Outcome solve(const float* b, double relative_residual_tol, double* x, const Told& told = {});

  /// Adds the solution of A d = change to x. Out: the residual that is left is at most `residual`.
  Outcome solve_further(const float* change, double residual, double* x, const Told& told = {});

  struct Mode {
    double eigenvalue;
    int iterations;
    bool settled;
  };
  /// Smallest eigenvalue of A x = eigenvalue M x, M diagonal.
  /// In:  mass, the diagonal of M; x, a guess not orthogonal to the mode (a solution of A x = M 1
  /// is
  ///      a good one). Out: x, the mode, largest value 1.
  /// Error: the last step moved the eigenvalue by less than relative_tol; it comes from above, so
  ///      that the rest is of the same order.
  /// Source: [KNY01], here with two directions at a time: the preconditioned gradient is made
  ///      conjugate to the last one, and x moves along it to the least Rayleigh quotient.
  Mode slowest_mode(const float* mass, double relative_tol, double* x, const Told& told = {});

 private:
  double square_of_residual(const float* b);
  Outcome iterate(double whole, double goal, double* x, const Told& told);
  double turn_and_apply(double alpha, double beta, const float* z, double* x);
  void set_descent(const float* mass, double quotient, const double* x);
  void scale_to_one(double* x) const;

  Multigrid multigrid_;
  ZeroedArray<double> r_, p_, q_;
};

}  // namespace thickset

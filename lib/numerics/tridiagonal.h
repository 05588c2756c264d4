#pragma once

#include <Eigen/Core>

namespace thickset {

/// LU factors of a tridiagonal matrix, kept so that more right sides can be solved.
///
/// Rows 0..n-1: lower(i) x(i-1) + diagonal(i) x(i) + upper(i) x(i+1) = b(i); lower(0) and
/// upper(n-1) are not read. No pivoting: for diagonally dominant matrices, which implicit
/// conduction steps are. Source: Thomas algorithm, [GVL13] 4.3.6.
class Tridiagonal {
 public:
  explicit Tridiagonal(Eigen::Index size)
      : lower{size},
        diagonal{size},
        upper{size},
        multiplier_{size},
        upper_by_pivot_{size},
        inverse_pivot_{size} {}

  Eigen::ArrayXd lower, diagonal, upper;

  /// Factors the matrix now in lower, diagonal and upper. No allocation.
  void factor() {
    inverse_pivot_(0) = 1.0 / diagonal(0);
    upper_by_pivot_(0) = upper(0) * inverse_pivot_(0);
    for (Eigen::Index i = 1; i < diagonal.size(); ++i) {
      multiplier_(i) = lower(i) * inverse_pivot_(i - 1);
      inverse_pivot_(i) = 1.0 / (diagonal(i) - lower(i) * upper_by_pivot_(i - 1));
      upper_by_pivot_(i) = upper(i) * inverse_pivot_(i);
    }
  }

  /// Replaces the right side by the solution, with the last factors. No allocation.
  void solve(Eigen::ArrayXd& b) const { solve(b.data()); }
  void solve(double* b) const {
    const Eigen::Index last = diagonal.size() - 1;
    for (Eigen::Index i = 1; i <= last; ++i) b[i] -= multiplier_(i) * b[i - 1];
    b[last] *= inverse_pivot_(last);
    for (Eigen::Index i = last - 1; i >= 0; --i) {
      b[i] = b[i] * inverse_pivot_(i) - upper_by_pivot_(i) * b[i + 1];
    }
  }

 private:
  Eigen::ArrayXd multiplier_, upper_by_pivot_, inverse_pivot_;
};

}  // namespace thickset

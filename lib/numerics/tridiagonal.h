#pragma once

#include <Eigen/Core>

namespace thickset {

/// Factors of a tridiagonal matrix, kept so that more right sides can be solved.
///
/// Rows 0..n-1: lower(i) x(i-1) + diagonal(i) x(i) + upper(i) x(i+1) = b(i); lower(0) and
/// upper(n-1) are not read. No pivoting: for diagonally dominant matrices, which implicit
/// conduction steps are. Source: Thomas algorithm, [GVL13] 4.3.6; here from both ends to the row in
/// the middle and back, two chains of operations that do not wait for each other.
class Tridiagonal {
 public:
  explicit Tridiagonal(Eigen::Index size)
      : lower{size},
        diagonal{size},
        upper{size},
        towards_middle_{Eigen::ArrayXd::Zero(size)},
        towards_end_{Eigen::ArrayXd::Zero(size)},
        inverse_pivot_{Eigen::ArrayXd::Zero(size)},
        last_{size - 1},
        middle_{size / 2} {}

  Eigen::ArrayXd lower, diagonal, upper;

  /// Factors the matrix now in lower, diagonal and upper. No allocation.
  void factor() {
    for (Eigen::Index i = 0; i < middle_; ++i) {
      const double before = i > 0 ? lower(i) * towards_end_(i - 1) : 0.0;
      inverse_pivot_(i) = 1.0 / (diagonal(i) - before);
      towards_end_(i) = upper(i) * inverse_pivot_(i);
      towards_middle_(i) = lower(i + 1) * inverse_pivot_(i);
    }
    for (Eigen::Index i = last_; i > middle_; --i) {
      const double after = i < last_ ? upper(i) * towards_end_(i + 1) : 0.0;
      inverse_pivot_(i) = 1.0 / (diagonal(i) - after);
      towards_end_(i) = lower(i) * inverse_pivot_(i);
      towards_middle_(i) = upper(i - 1) * inverse_pivot_(i);
    }
    const double before = middle_ > 0 ? lower(middle_) * towards_end_(middle_ - 1) : 0.0;
    const double after = middle_ < last_ ? upper(middle_) * towards_end_(middle_ + 1) : 0.0;
    inverse_pivot_(middle_) = 1.0 / (diagonal(middle_) - before - after);
  }

  /// Replaces the right side by the solution, with the last factors. No allocation.
  void solve(Eigen::ArrayXd& b) const { solve(b.data()); }
  void solve(double* b) const {
    const double* const inwards = towards_middle_.data();
    const double* const outwards = towards_end_.data();
    const double* const inverse_pivot = inverse_pivot_.data();
    for (Eigen::Index i = 0; i < middle_; ++i) b[i + 1] -= inwards[i] * b[i];
    for (Eigen::Index i = last_; i > middle_; --i) b[i - 1] -= inwards[i] * b[i];
    b[middle_] *= inverse_pivot[middle_];
    for (Eigen::Index i = middle_; i > 0; --i) {
      b[i - 1] = b[i - 1] * inverse_pivot[i - 1] - outwards[i - 1] * b[i];
    }
    for (Eigen::Index i = middle_; i < last_; ++i) {
      b[i + 1] = b[i + 1] * inverse_pivot[i + 1] - outwards[i + 1] * b[i];
    }
  }

 private:
  Eigen::ArrayXd towards_middle_, towards_end_, inverse_pivot_;
  Eigen::Index last_, middle_;
};

}  // namespace thickset

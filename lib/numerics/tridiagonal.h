#pragma once

#include <Eigen/Core>

namespace thickset {

/// Factors of a tridiagonal matrix, kept so that more right sides can be solved.
///
/// Rows 0..n-1: lower(i) x(i-1) + diagonal(i) x(i) + upper(i) x(i+1) = b(i); lower(0) and
/// upper(n-1) are not read. No pivoting: for diagonally dominant matrices, which implicit
/// conduction steps are. Source: Thomas algorithm, [GVL13] 4.3.6; here from both ends to the row in
/// the middle and back, and each time two rows ahead, so that four chains of operations do not wait
/// for each other: notes/benchmarks.md#two-rows-ahead.
class Tridiagonal {
 public:
  explicit Tridiagonal(Eigen::Index size)
      : lower{size},
        diagonal{size},
        upper{size},
        inverse_pivot_{Eigen::ArrayXd::Zero(size)},
        inwards_{Eigen::ArrayXXd::Zero(size, 2)},
        outwards_{Eigen::ArrayXXd::Zero(size, 2)},
        last_{size - 1},
        middle_{size / 2} {}

  Eigen::ArrayXd lower, diagonal, upper;

  /// Factors the matrix now in lower, diagonal and upper. No allocation.
  void factor() {
    double pivot = diagonal(middle_);
    if (middle_ > 0) pivot -= lower(middle_) * factor_half(0, 1, middle_, upper, lower);
    if (middle_ < last_) {
      pivot -= upper(middle_) * factor_half(last_, -1, last_ - middle_, lower, upper);
    }
    inverse_pivot_(middle_) = 1.0 / pivot;
  }

  /// Replaces the right side by the solution, with the last factors. No allocation.
  void solve(Eigen::ArrayXd& b) const { solve(b.data()); }
  void solve(double* b) const {
    double at_middle = b[middle_];
    if (middle_ > 0) at_middle -= go_inwards<1>(b, 0, middle_);
    if (middle_ < last_) at_middle -= go_inwards<-1>(b, last_, last_ - middle_);
    b[middle_] = at_middle * inverse_pivot_(middle_);
    go_outwards<-1>(b, middle_);
    go_outwards<1>(b, last_ - middle_);
  }

 private:
  /// The `count` rows from `first` towards the middle; `ahead` and `behind` hold what couples a row
  /// to the next one and to the one before on that way. Returns the last row's outward factor.
  double factor_half(Eigen::Index first,
                     Eigen::Index way,
                     Eigen::Index count,
                     const Eigen::ArrayXd& ahead,
                     const Eigen::ArrayXd& behind) {
    double in = 0.0, out = 0.0;  // of the row before
    for (Eigen::Index k = 0; k < count; ++k) {
      const Eigen::Index i = first + way * k;
      const double coupling = k > 0 ? behind(i) * out : 0.0;
      inverse_pivot_(i) = 1.0 / (diagonal(i) - coupling);
      const double next_in = behind(i + way) * inverse_pivot_(i);
      const double next_out = ahead(i) * inverse_pivot_(i);
      inwards_(i, 0) = next_in;
      inwards_(i, 1) = in * next_in;
      outwards_(i, 0) = next_out;
      if (k > 0) outwards_(i - way, 1) = out * next_out;
      in = next_in;
      out = next_out;
    }
    return out;
  }

  /// b_k - in_{k-1} b_{k-1} for the rows from `first` on, each with what the one before became.
  /// Returns what the last row takes from the middle one.
  template <int way>
  double go_inwards(double* all, Eigen::Index first, Eigen::Index count) const {
    double* const b = all + first;
    const double* const one = inwards_.col(0).data() + first;
    const double* const two = inwards_.col(1).data() + first;
    double even = b[0];
    if (count == 1) return one[0] * even;
    double given = b[way];
    double odd = given - one[0] * even;
    b[way] = odd;
    Eigen::Index k = 2;
    for (; k + 1 < count; k += 2) {
      const double next = b[k * way];
      const double next_but_one = b[(k + 1) * way];
      even = next - one[(k - 1) * way] * given + two[(k - 1) * way] * even;
      odd = next_but_one - one[k * way] * next + two[k * way] * odd;
      b[k * way] = even;
      b[(k + 1) * way] = odd;
      given = next_but_one;
    }
    if (k < count) {
      odd = b[k * way] - one[(k - 1) * way] * odd;
      b[k * way] = odd;
    }
    return one[(count - 1) * way] * odd;
  }

  /// b_k / pivot_k - out_k x_{k-1} for the `count` rows beyond the middle, from there on.
  template <int way>
  void go_outwards(double* all, Eigen::Index count) const {
    if (count == 0) return;
    double* const b = all + middle_;
    const double* const inverse_pivot = inverse_pivot_.data() + middle_;
    const double* const one = outwards_.col(0).data() + middle_;
    const double* const two = outwards_.col(1).data() + middle_;
    double even = b[0];
    double given = b[way] * inverse_pivot[way];
    double odd = given - one[way] * even;
    b[way] = odd;
    Eigen::Index k = 2;
    for (; k + 1 <= count; k += 2) {
      const double next = b[k * way] * inverse_pivot[k * way];
      const double next_but_one = b[(k + 1) * way] * inverse_pivot[(k + 1) * way];
      even = next - one[k * way] * given + two[k * way] * even;
      odd = next_but_one - one[(k + 1) * way] * next + two[(k + 1) * way] * odd;
      b[k * way] = even;
      b[(k + 1) * way] = odd;
      given = next_but_one;
    }
    if (k <= count) b[k * way] = b[k * way] * inverse_pivot[k * way] - one[k * way] * odd;
  }

  Eigen::ArrayXd inverse_pivot_;
  /// By which a row enters the next one towards the middle, and the next one towards the end; in
  /// the second column the one after that, by way of the first.
  Eigen::ArrayXXd inwards_, outwards_;
  Eigen::Index last_, middle_;
};

}  // namespace thickset

#include "relaxation/decay.h"

#include <algorithm>
#include <cassert>

#include "numerics/lanes.h"
#include "numerics/vector_exp.h"

namespace thickset::relaxation {
namespace {

using Eigen::Index;

constexpr double unmoved = 1e-14;  // below, all is as before to rounding
constexpr double slow = 0.04;      // below, series do: M's to rounding, the growth's to 1e-9
constexpr double gone = 37.0;      // above, exp(-z) is below the rounding of 1
constexpr double longest_z = 700.0;
constexpr double shortest_z = 1e-300;  // stands for 0, so that nothing is divided by it

// With u the clock's time to the step's end over the step, the reduced time to the end is, to first
// order in the growth g, z (u + g/2 u (1 - u)), so the mean is
//   M - g z/2 Q,  M = (1 - exp(-z))/z,  Q = integral of u (1 - u) exp(-z u)
//                                         = (1 + exp(-z) - 2 M)/z^2.

/// M by its series.
inline double even_mean(double z) {
  return 1.0 -
         z * (1.0 / 2.0 -
              z * (1.0 / 6.0 -
                   z * (1.0 / 24.0 - z * (1.0 / 120.0 - z * (1.0 / 720.0 - z * (1.0 / 5040.0))))));
}

/// z/2 Q by its series.
inline double growth_effect(double z) {
  return z * (1.0 / 12.0 - z * (1.0 / 24.0 - z * (1.0 / 80.0)));
}

/// z/2 Q, held between two partial sums of its series, which alternates: where z is small the
/// closed form is lost in rounding, and they are closer to each other than to it.
inline double within_series(double z, double closed) {
  const double lower = z * (1.0 / 12.0 - z * (1.0 / 24.0));
  const double upper = lower + z * z * z * (1.0 / 80.0);
  return std::max(lower, std::min(upper, closed));
}

// Of some neighbouring terms, at n points. The arrays do not overlap.

THICKSET_FOUR_AT_ONCE
void slow_terms(Index terms,
                Index n,
                const double* __restrict per_s,
                const double* __restrict passed_s,
                const double* __restrict growth,
                double* __restrict left,
                double* __restrict mean) {
  for (Index term = 0; term < terms; ++term) {
    THICKSET_ROUNDS_APART
    for (Index i = 0; i < n; ++i) {
      const double z = passed_s[i] * per_s[term];
      const double even = even_mean(z);
      left[term * n + i] = 1.0 - z * even;
      mean[term * n + i] = even - growth[i] * growth_effect(z);
    }
  }
}

THICKSET_FOUR_AT_ONCE
void gone_terms(Index terms,
                Index n,
                const double* __restrict per_s,
                const double* __restrict passed_s,
                const double* __restrict growth,
                double* __restrict left,
                double* __restrict mean) {
  for (Index term = 0; term < terms; ++term) {
    THICKSET_ROUNDS_APART
    for (Index i = 0; i < n; ++i) {
      const double inverse = 1.0 / (passed_s[i] * per_s[term]);
      left[term * n + i] = 0.0;
      mean[term * n + i] = (1.0 - growth[i] * (0.5 - inverse)) * inverse;
    }
  }
}

THICKSET_FOUR_AT_ONCE
void moving_terms(Index terms,
                  Index n,
                  const double* __restrict per_s,
                  const double* __restrict passed_s,
                  const double* __restrict growth,
                  double* __restrict left,
                  double* __restrict mean) {
  for (Index term = 0; term < terms; ++term) {
    THICKSET_ROUNDS_APART
    for (Index i = 0; i < n; ++i) {
      const double z = std::max(shortest_z, passed_s[i] * per_s[term]);
      const Exponential decayed{-std::min(longest_z, z)};
      const double inverse = 1.0 / z;
      const double even = decayed.from_one() * inverse;
      const double effect = 0.5 * (1.0 + decayed.value() - 2.0 * even) * inverse;
      left[term * n + i] = decayed.value();
      mean[term * n + i] = even - growth[i] * within_series(z, effect);
    }
  }
}

}  // namespace

Decays::Decays(Index points, const RelaxationSpectrum::Terms& time_s)
    : left_{Eigen::ArrayXXd::Ones(points, RelaxationSpectrum::terms)},
      mean_{Eigen::ArrayXXd::Ones(points, RelaxationSpectrum::terms)} {
  for (std::size_t term = 0; term < per_s_.size(); ++term) per_s_[term] = 1.0 / time_s[term];
}

double Decays::still_s() const {
  return unmoved / per_s_.front();
}

void Decays::over(const ReducedTime& reduced) {
  still_ = reduced.longest_s <= still_s();
  if (still_) return;
  assert(reduced.passed_s.size() == left_.rows());
  const auto work_out = [&](auto&& terms_from, std::size_t from, std::size_t to) {
    terms_from(static_cast<Index>(to - from),
               left_.rows(),
               per_s_.data() + from,
               reduced.passed_s.data(),
               reduced.growth.data(),
               left_.col(static_cast<Index>(from)).data(),
               mean_.col(static_cast<Index>(from)).data());
  };
  std::size_t first = 0;  // that is not gone
  while (first < per_s_.size() && reduced.shortest_s * per_s_[first] > gone) ++first;
  std::size_t last = per_s_.size();  // from there on, all are slow
  while (last > first && reduced.longest_s * per_s_[last - 1] < slow) --last;
  if (first > 0) work_out(gone_terms, 0, first);
  if (last > first) work_out(moving_terms, first, last);
  if (last < per_s_.size()) work_out(slow_terms, last, per_s_.size());
}

}  // namespace thickset::relaxation

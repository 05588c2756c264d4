#include "relaxation/decay.h"

#include <cassert>

namespace thickset::relaxation {
namespace {

using Eigen::Index;

constexpr double unmoved = 1e-14;    // below, all is as before to rounding
constexpr double slow = 0.01;        // below, series do: M's to rounding, the growth's to 3e-11
constexpr double gone = 40.0;        // above, exp(-z) is below the rounding of 1
constexpr double longest_z = 700.0;  // exp(-700) is the least a double holds without denormals

// With u the clock's time to the step's end over the step, the reduced time to the end is, to first
// order in the growth g, z (u + g/2 u (1 - u)), so the mean is
//   M - g z/2 Q,  M = (1 - exp(-z))/z,  Q = integral of u (1 - u) exp(-z u)
//                                         = (1 + exp(-z) - 2 M)/z^2.

/// M by its series.
inline double even_mean(double z) {
  return 1.0 - z * (1.0 / 2.0 -
                    z * (1.0 / 6.0 - z * (1.0 / 24.0 - z * (1.0 / 120.0 - z * (1.0 / 720.0)))));
}

/// z/2 Q by its series.
inline double growth_effect(double z) {
  return z * (1.0 / 12.0 - z * (1.0 / 24.0 - z * (1.0 / 80.0)));
}

// The arrays of these do not overlap, so that compilers can make vector code of them.

void slow_term(Index n,
               double per_s,
               const double* __restrict passed_s,
               const double* __restrict growth,
               double* __restrict left,
               double* __restrict mean) {
  for (Index i = 0; i < n; ++i) {
    const double z = passed_s[i] * per_s;
    const double even = even_mean(z);
    left[i] = 1.0 - z * even;
    mean[i] = even - growth[i] * growth_effect(z);
  }
}

void gone_term(Index n,
               double per_s,
               const double* __restrict passed_s,
               const double* __restrict growth,
               double* __restrict left,
               double* __restrict mean) {
  for (Index i = 0; i < n; ++i) {
    const double inverse = 1.0 / (passed_s[i] * per_s);
    left[i] = 0.0;
    mean[i] = (1.0 - growth[i] * (0.5 - inverse)) * inverse;
  }
}

void exponents(Index n,
               double per_s,
               const double* __restrict passed_s,
               double* __restrict exponent) {
  for (Index i = 0; i < n; ++i) exponent[i] = -per_s * passed_s[i];
}

/// The mean, from what is left; no number where z is nothing.
void moving_mean(Index n,
                 double per_s,
                 const double* __restrict passed_s,
                 const double* __restrict growth,
                 const double* __restrict left,
                 double* __restrict mean) {
  for (Index i = 0; i < n; ++i) {
    const double inverse = 1.0 / (passed_s[i] * per_s);
    const double even = (1.0 - left[i]) * inverse;
    mean[i] = even - 0.5 * growth[i] * (1.0 + left[i] - 2.0 * even) * inverse;
  }
}

/// The mean at those points of a moving term that are slow.
void mend_slow(Index n,
               double per_s,
               const double* __restrict passed_s,
               const double* __restrict growth,
               double* __restrict mean) {
  for (Index i = 0; i < n; ++i) {
    const double z = passed_s[i] * per_s;
    if (z < slow) mean[i] = even_mean(z) - growth[i] * growth_effect(z);
  }
}

/// Even, so that exponentials are taken in pairs throughout.
Index rows(Index points) {
  return points + points % 2;
}

}  // namespace

Decays::Decays(Index points, const RelaxationSpectrum::Terms& time_s)
    : time_s_{time_s},
      exponent_{Eigen::ArrayXXd::Zero(rows(points), RelaxationSpectrum::terms)},
      left_{Eigen::ArrayXXd::Ones(rows(points), RelaxationSpectrum::terms)},
      mean_{Eigen::ArrayXXd::Ones(rows(points), RelaxationSpectrum::terms)} {}

double Decays::still_s() const {
  return unmoved * time_s_.front();
}

void Decays::over(const ReducedTime& reduced) {
  still_ = reduced.longest_s <= still_s();
  if (still_) return;
  const Index n = reduced.passed_s.size();
  assert(rows(n) == left_.rows());
  const double* const passed_s = reduced.passed_s.data();
  const double* const growth = reduced.growth.data();
  const auto per_s = [&](Index term) { return 1.0 / time_s_[static_cast<std::size_t>(term)]; };

  Index first = 0;  // that is not gone
  for (; first < left_.cols() && reduced.shortest_s * per_s(first) > gone; ++first) {
    gone_term(n, per_s(first), passed_s, growth, left_.col(first).data(), mean_.col(first).data());
  }
  Index last = left_.cols();  // beyond, all are slow
  for (; last > first && reduced.longest_s * per_s(last - 1) < slow; --last) {
    const Index term = last - 1;
    slow_term(n, per_s(term), passed_s, growth, left_.col(term).data(), mean_.col(term).data());
  }
  const Index moving = last - first;
  for (Index term = first; term < last; ++term) {
    exponents(n, per_s(term), passed_s, exponent_.col(term).data());
  }
  left_.middleCols(first, moving) = exponent_.middleCols(first, moving).max(-longest_z).exp();
  for (Index term = first; term < last; ++term) {
    double* const mean = mean_.col(term).data();
    moving_mean(n, per_s(term), passed_s, growth, left_.col(term).data(), mean);
    if (reduced.shortest_s * per_s(term) < slow) mend_slow(n, per_s(term), passed_s, growth, mean);
  }
}

}  // namespace thickset::relaxation

#include "relaxation/decay.h"

namespace thickset::relaxation {
namespace {

constexpr double tiny = 1e-2;        // below, the series of (1 - exp(-z))/z is used
constexpr double frozen = 1e-8;      // below, two terms of either series are exact to rounding
constexpr double gone = 40.0;        // above, exp(-z) is below the rounding of 1
constexpr double longest_z = 700.0;  // exp(-700) is the least a double holds without denormals

}  // namespace

// With u the clock's time to the step's end over the step, the reduced time to the end is, to first
// order in the growth g, z (u + g/2 u (1 - u)), so the mean is
//   M - g z/2 Q,  M = (1 - exp(-z))/z,  Q = integral of u (1 - u) exp(-z u) = (1 + exp(-z) - 2
//   M)/z^2.
void Decay::over(const ReducedTime& reduced, double time_s) {
  z_ = reduced.passed_s * (1.0 / time_s);
  if (reduced.longest_s < frozen * time_s) {
    left_ = 1.0 - z_;
    mean_ = 1.0 - 0.5 * z_;
  } else if (reduced.shortest_s > gone * time_s) {
    left_.setZero();
    mean_ = (1.0 - reduced.growth * (0.5 - 1.0 / z_)) / z_;
  } else {
    left_ = (-z_.min(longest_z)).exp();
    mean_ = (1.0 - left_) / z_;
    mean_ =
        (z_ < tiny).select(1.0 - z_ * (0.5 - z_ * (1.0 / 6.0 - z_ * (1.0 / 24.0 - z_ / 120.0))) -
                               reduced.growth * z_ * (1.0 / 12.0 - z_ * (1.0 / 24.0 - z_ / 80.0)),
                           mean_ - 0.5 * reduced.growth * (1.0 + left_ - 2.0 * mean_) / z_);
  }
}

}  // namespace thickset::relaxation

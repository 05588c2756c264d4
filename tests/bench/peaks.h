#pragma once

#include <algorithm>
#include <cmath>

/// The largest |difference| along a course known at the ends of steps, with its slope: inside a
/// step the cubic with these ends is followed. The same for our solver and for the reference.
namespace thickset::bench {

class Peak {
 public:
  Peak(double value_K, double slope_K_per_s) : value_K_{value_K}, slope_K_per_s_{slope_K_per_s} {}

  /// Begins anew where it is: at a corner of the course, whose value belongs to both sides.
  void restart() { largest_K_ = std::abs(value_K_); }

  /// For a method whose cubic begins with another slope than the last one ended with.
  void step(double dt_s, double first_slope_K_per_s, double value_K, double slope_K_per_s) {
    slope_K_per_s_ = first_slope_K_per_s;
    step(dt_s, value_K, slope_K_per_s);
  }

  void step(double dt_s, double value_K, double slope_K_per_s) {
    largest_K_ = std::max({largest_K_, std::abs(value_K_), std::abs(value_K)});
    if (slope_K_per_s_ * slope_K_per_s < 0.0) inside(dt_s, value_K, slope_K_per_s);
    value_K_ = value_K;
    slope_K_per_s_ = slope_K_per_s;
  }

  double largest_K() const { return largest_K_; }

 private:
  /// With u = time/dt: value + s u + b u^2 + a u^3, which has one turning point in 0 < u < 1 where
  /// the slopes at its ends differ in sign.
  void inside(double dt_s, double end_K, double end_slope_K_per_s) {
    const double s = dt_s * slope_K_per_s_;
    const double e = dt_s * end_slope_K_per_s;
    const double rise = end_K - value_K_;
    const double a = s + e - 2.0 * rise;
    const double b = 3.0 * rise - 2.0 * s - e;
    // Roots of s + 2 b u + 3 a u^2, in the form that loses no digits.
    const double root = std::sqrt(std::max(b * b - 3.0 * a * s, 0.0));
    const double q = -(b + std::copysign(root, b));
    for (const double u : {q != 0.0 ? s / q : 0.0, a != 0.0 ? q / (3.0 * a) : 0.0}) {
      if (u > 0.0 && u < 1.0) {
        largest_K_ = std::max(largest_K_, std::abs(value_K_ + u * (s + u * (b + u * a))));
      }
    }
  }

  double value_K_;
  double slope_K_per_s_;
  double largest_K_ = 0.0;
};

}  // namespace thickset::bench

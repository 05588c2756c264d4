#pragma once

#include "units/temperature.h"

#include <compare>

namespace thickset {

/// How fast a temperature changes; a difference per time, so 1 degree C/h is 1.8 degrees F/h.
class Rate {
 public:
  static constexpr Rate from_K_per_s(double rate_K_per_s) { return Rate{rate_K_per_s}; }
  static constexpr Rate from_K_per_h(double rate_K_per_h) { return Rate{rate_K_per_h / 3600.0}; }
  static constexpr Rate from_F_per_h(double rate_F_per_h) {
    return from_K_per_h(rate_F_per_h / 1.8);
  }
  constexpr double in_K_per_s() const { return rate_K_per_s_; }
  constexpr double in_K_per_h() const { return rate_K_per_s_ * 3600.0; }
  constexpr double in_F_per_h() const { return in_K_per_h() * 1.8; }
  constexpr auto operator<=>(const Rate&) const = default;

 private:
  explicit constexpr Rate(double rate_K_per_s) : rate_K_per_s_{rate_K_per_s} {}
  double rate_K_per_s_;
};

constexpr double in_degrees_per_h(Rate rate, Degrees degrees) {
  return degrees == Degrees::celsius ? rate.in_K_per_h() : rate.in_F_per_h();
}
constexpr Rate rate_from_degrees_per_h(double value, Degrees degrees) {
  return degrees == Degrees::celsius ? Rate::from_K_per_h(value) : Rate::from_F_per_h(value);
}

}  // namespace thickset

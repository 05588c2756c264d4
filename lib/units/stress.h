#pragma once

#include <compare>

namespace thickset {

/// A stress; tension is positive.
class Stress {
 public:
  static constexpr Stress from_Pa(double stress_Pa) { return Stress{stress_Pa}; }
  static constexpr Stress from_MPa(double stress_MPa) { return Stress{stress_MPa * 1e6}; }
  constexpr double in_Pa() const { return stress_Pa_; }
  constexpr double in_MPa() const { return stress_Pa_ / 1e6; }
  constexpr auto operator<=>(const Stress&) const = default;

 private:
  explicit constexpr Stress(double stress_Pa) : stress_Pa_{stress_Pa} {}
  double stress_Pa_;
};

/// Optical retardation per path length, in nm/cm (1 nm/cm = 1e-7).
class Retardation {
 public:
  static constexpr Retardation from_nm_per_cm(double value) { return Retardation{value}; }
  constexpr double in_nm_per_cm() const { return nm_per_cm_; }
  constexpr auto operator<=>(const Retardation&) const = default;

 private:
  explicit constexpr Retardation(double nm_per_cm) : nm_per_cm_{nm_per_cm} {}
  double nm_per_cm_;
};

}  // namespace thickset

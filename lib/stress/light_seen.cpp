#include "stress/light_seen.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace thickset::stress {

Spread retardation_of_turn_m(double turn_rad,
                             double error_rad,
                             double wavelength_m,
                             int whole_bands) {
  assert(turn_rad >= 0.0 && turn_rad <= std::numbers::pi && error_rad >= 0.0);
  assert(wavelength_m > 0.0 && whole_bands >= 0);
  const double per_rad_m = wavelength_m / std::numbers::pi;
  return around(wavelength_m * whole_bands + per_rad_m * turn_rad, per_rad_m * error_rad);
}

Spread retardation_of_discs_m(double discs, double error_discs) {
  assert(discs >= 0.0 && error_discs >= 0.0);
  return around(disc_m * discs, disc_m * error_discs);
}

int apparent_temper_number(double retardation_m) {
  assert(retardation_m >= 0.0);
  constexpr double rounding_discs = 0.0055;  // 0.04 degrees of 7.26 a disc
  return std::max(1, static_cast<int>(std::ceil(retardation_m / disc_m - rounding_discs)));
}

double real_temper_number(int apparent, double thickness_m) {
  assert(thickness_m > 0.0);
  constexpr double reference_thickness_m = 4.06e-3;
  return apparent * reference_thickness_m / thickness_m;
}

}  // namespace thickset::stress

#pragma once

#include "glass/glass.h"
#include "units/duration.h"
#include "units/temperature.h"

#include <cmath>

namespace thickset::relaxation {

/// Mean structural over mean shear relaxation time, from the published soda-lime set.
/// Source: [CARRE99] six-term table: 9.00 s and 1.000 s at 869 K.
inline constexpr double structural_over_shear = 9.0;

/// Mean shear relaxation time, viscosity over shear modulus.
inline Duration mean_shear_time(const Glass& glass, Temperature temperature) {
  return seconds(std::pow(10.0, glass.viscosity.log10_viscosity_Pa_s(temperature)) /
                 glass.shear_modulus_Pa());
}

/// Mean structural relaxation time of glass in equilibrium at this temperature. An estimate: for
/// glasses other than soda-lime the ratio is a stand-in.
inline Duration mean_structural_time(const Glass& glass, Temperature temperature) {
  return structural_over_shear * mean_shear_time(glass, temperature);
}

/// Structural times that a hold must last once the glass is even: less than 5 % of what was there
/// is left of a single exponential (exp(-3) = 0.0498).
inline constexpr double times_to_relax = 3.0;

inline Duration time_to_relax(const Glass& glass, Temperature temperature) {
  return times_to_relax * mean_structural_time(glass, temperature);
}

}  // namespace thickset::relaxation

#pragma once

namespace thickset {

/// Stefan-Boltzmann constant in W/(m2 K4), exact in the 2019 SI. Source: [CODATA18].
inline constexpr double stefan_boltzmann_W_per_m2_K4 = 5.670374419e-8;

}  // namespace thickset

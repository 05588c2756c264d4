#pragma once

#include "material/stefan_boltzmann.h"

#include <cmath>

namespace thickset::conduction {

/// How one face of a body meets its surroundings at the kiln's temperature.
struct Face {
  enum class Kind {
    insulated,   ///< no heat passes; also a plane of symmetry
    prescribed,  ///< the surface has the kiln's temperature
    exchange,    ///< convection and radiation with the kiln
  };
  Kind kind = Kind::insulated;
  double film_coefficient_W_per_m2_K = 0.0;
  double emissivity = 0.0;
  /// Multiplies the exchange: for a slab that stands for another shape, its volume over surface
  /// divided by the shape's, so that the steady lag between kiln and surface is the shape's.
  double exchange_factor = 1.0;

  static Face insulated() { return {}; }
  static Face prescribed() { return {.kind = Kind::prescribed}; }
  static Face exchange(double film_coefficient_W_per_m2_K, double emissivity) {
    return {.kind = Kind::exchange,
            .film_coefficient_W_per_m2_K = film_coefficient_W_per_m2_K,
            .emissivity = emissivity};
  }

  /// Heat into the face: h (T_kiln - T_s) + emissivity sigma (T_kiln^4 - T_s^4), large grey kiln.
  double heat_in_W_per_m2(double kiln_K, double surface_K) const {
    const double kiln2 = kiln_K * kiln_K;
    const double surface2 = surface_K * surface_K;
    return exchange_factor *
           (film_coefficient_W_per_m2_K * (kiln_K - surface_K) +
            emissivity * stefan_boltzmann_W_per_m2_K4 * (kiln2 * kiln2 - surface2 * surface2));
  }

  /// Minus the derivative of heat_in_W_per_m2 by the surface temperature.
  double stiffness_W_per_m2_K(double surface_K) const {
    return exchange_factor *
           (film_coefficient_W_per_m2_K +
            4.0 * emissivity * stefan_boltzmann_W_per_m2_K4 * surface_K * surface_K * surface_K);
  }
};

}  // namespace thickset::conduction

#pragma once

#include "material/thermal_law.h"

namespace thickset {

/// Radiation inside clear hot glass that is optically thick: what one layer sends out its
/// neighbours take up, so heat diffuses, and radiation counts as a conductivity of its own.
struct InnerRadiation {
  double absorption_per_m;        ///< Rosseland mean over the wavelengths that carry heat
  double refractive_index = 1.5;  ///< of those wavelengths
};

/// 16/3 n^2 sigma T^3 / a.
///
/// Error:  too much where absorption times thickness is small: between two black walls by 14 % at
///         10, 28 % at 5, 140 % at 1 (computed, not published;
///         notes/conduction.md#radiation-inside).
/// Source: [MOD13], from memory; derived in notes/conduction.md#radiation-inside.
double radiative_conductivity_W_per_m_K(const InnerRadiation& radiation, double T_K);

/// Absorption times thickness from which radiation may count as conduction.
inline constexpr double optically_thick = 10.0;

/// Where the sum of conduction and radiation is made; T^3 means nothing of glass beyond.
inline constexpr double inner_radiation_from_K = 150.0;
inline constexpr double inner_radiation_to_K = 1500.0;

/// Conduction and radiation in one law, over the part of the conduction's range that lies between
/// inner_radiation_from_K and inner_radiation_to_K.
///
/// In:     a conduction whose range reaches into that one (asserted).
/// Out:    pieces of a + b T + c/T^2 that meet T^3 at their ends and in the middle.
/// Error:  0.18 % of the radiation's part.
ThermalLaw with_inner_radiation(const ThermalLaw& conduction, const InnerRadiation& radiation);

/// Whether with_inner_radiation can be had of a law.
bool takes_inner_radiation(const ThermalLaw& conduction);

}  // namespace thickset

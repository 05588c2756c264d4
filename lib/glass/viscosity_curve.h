#pragma once

#include "units/temperature.h"

#include <optional>

namespace thickset {

/// Viscosity against temperature through a glass's fixed points.
///
/// With annealing and strain point: ln(viscosity) linear in 1/T. With a softening point as well:
/// the VFT curve log10(viscosity) = A + B/(T - T0) through all three where such a curve exists,
/// used above the annealing point; below it always the two-point line, since the strain point must
/// not be put into a VFT curve (ISO 7884-7). Source: ASTM C336, C338 for the viscosities of the
/// points; notes/relaxation.md#viscosity.
class ViscosityCurve {
 public:
  static constexpr double log10_at_annealing_Pa_s = 12.0;
  static constexpr double log10_at_strain_Pa_s = 13.5;
  static constexpr double log10_at_softening_Pa_s = 6.6;

  /// Needs strain < annealing < softening; asserted, the reader has checked it.
  ViscosityCurve(Temperature annealing_point,
                 Temperature strain_point,
                 std::optional<Temperature> softening_point);

  double log10_viscosity_Pa_s(Temperature temperature) const;

  /// Apparent activation energy over the gas constant near the transition, d ln(viscosity)/d(1/T).
  double activation_K() const { return activation_K_; }

  /// The temperature at which the curve has this viscosity.
  Temperature at_log10_viscosity(double log10_viscosity_Pa_s) const;

 private:
  double annealing_K_;
  double activation_K_;
  struct Vft {
    double A, B_K, T0_K;
  };
  std::optional<Vft> vft_;
};

}  // namespace thickset

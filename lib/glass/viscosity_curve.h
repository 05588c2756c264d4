#pragma once

#include "units/temperature.h"

#include <optional>

namespace thickset {

/// Viscosity against temperature through a glass's fixed points.
///
/// At and below the annealing point ln(viscosity) is linear in 1/T through annealing and strain
/// point; without a softening point this line goes on above. With one, above the annealing point
/// the VFT curve log10(viscosity) = A + B/(T - T0) through annealing and softening point, with the
/// A of the standard glasses. The strain point is kept out of it, as ISO 7884-7 asks, so the slope
/// jumps at the annealing point.
/// Error:  meets its points to round-off; elsewhere as good as they are, about 10 K.
/// Source: [ASTM-C336], [ASTM-C338] for the viscosities of the points;
///         notes/relaxation.md#viscosity.
class ViscosityCurve {
 public:
  static constexpr double log10_at_annealing_Pa_s = 12.0;
  static constexpr double log10_at_strain_Pa_s = 13.5;
  static constexpr double log10_at_softening_Pa_s = 6.6;
  /// A. [EGST21] prints -1.601 - 1 for DGG standard glass I; the certificates of SRM 710 and 711
  /// have -2.626 and -2.621 ([SRM710], [SRM711], from memory).
  static constexpr double log10_at_infinity_Pa_s = -2.6;

  /// Needs strain < annealing < softening; asserted, the reader has checked it.
  ViscosityCurve(Temperature annealing_point,
                 Temperature strain_point,
                 std::optional<Temperature> softening_point);

  double log10_viscosity_Pa_s(Temperature temperature) const;

  /// Apparent activation energy over the gas constant near the transition, d ln(viscosity)/d(1/T).
  double activation_K() const { return activation_K_; }

  /// The temperature at which the curve has this viscosity; asserted to be above
  /// log10_at_infinity_Pa_s, thinner than any molten glass.
  Temperature at_log10_viscosity(double log10_viscosity_Pa_s) const;

 private:
  double annealing_K_;
  double activation_K_;
  /// The curve above the annealing point, from there on: log10 = 12 + B (1/(T-T0) - 1/(Ta-T0)).
  struct Vft {
    double B_K;
    double T0_K;
  };
  Vft above_annealing_;
};

}  // namespace thickset

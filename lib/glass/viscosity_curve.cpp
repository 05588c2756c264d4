#include "glass/viscosity_curve.h"

#include <cassert>
#include <cmath>
#include <numbers>

namespace thickset {

ViscosityCurve::ViscosityCurve(Temperature annealing_point,
                               Temperature strain_point,
                               std::optional<Temperature> softening_point)
    : annealing_K_{annealing_point.in_K()} {
  const double strain_K = strain_point.in_K();
  assert(strain_K > 0.0 && strain_K < annealing_K_);
  activation_K_ = std::numbers::ln10 * (log10_at_strain_Pa_s - log10_at_annealing_Pa_s) /
                  (1.0 / strain_K - 1.0 / annealing_K_);
  above_annealing_ = {.B_K = activation_K_ / std::numbers::ln10, .T0_K = 0.0};
  if (!softening_point) return;

  const double softening_K = softening_point->in_K();
  assert(softening_K > annealing_K_);
  // (L - A)(T - T0) = B at both points, subtracted: linear in T0.
  constexpr double annealing = log10_at_annealing_Pa_s - log10_at_infinity_Pa_s;
  constexpr double softening = log10_at_softening_Pa_s - log10_at_infinity_Pa_s;
  const double T0_K =
      (annealing * annealing_K_ - softening * softening_K) / (annealing - softening);
  const double B_K = annealing * (annealing_K_ - T0_K);
  above_annealing_ = {.B_K = B_K, .T0_K = T0_K};
}

double ViscosityCurve::log10_viscosity_Pa_s(Temperature temperature) const {
  const double T_K = temperature.in_K();
  assert(T_K > 0.0);
  if (T_K <= annealing_K_) {
    return log10_at_annealing_Pa_s +
           activation_K_ / std::numbers::ln10 * (1.0 / T_K - 1.0 / annealing_K_);
  }
  const auto [B_K, T0_K] = above_annealing_;
  return log10_at_annealing_Pa_s + B_K * (1.0 / (T_K - T0_K) - 1.0 / (annealing_K_ - T0_K));
}

Temperature ViscosityCurve::at_log10_viscosity(double log10_viscosity_Pa_s) const {
  assert(log10_viscosity_Pa_s > log10_at_infinity_Pa_s);
  const double above_12 = log10_viscosity_Pa_s - log10_at_annealing_Pa_s;
  if (above_12 >= 0.0) {
    return Temperature::from_K(
        1.0 / (1.0 / annealing_K_ + above_12 * std::numbers::ln10 / activation_K_));
  }
  const auto [B_K, T0_K] = above_annealing_;
  const double inverse_per_K = 1.0 / (annealing_K_ - T0_K) + above_12 / B_K;
  return Temperature::from_K(T0_K + 1.0 / inverse_per_K);
}

}  // namespace thickset

#include "conduction/joint.h"

#include "conduction/face.h"

namespace thickset::conduction {

const ThermalLaw& air_conductivity_W_per_m_K() {
  constexpr ThermalLaw::Point points[] = {{250.0, 0.0223},
                                          {300.0, 0.0263},
                                          {400.0, 0.0338},
                                          {500.0, 0.0407},
                                          {600.0, 0.0469},
                                          {700.0, 0.0524},
                                          {800.0, 0.0573},
                                          {900.0, 0.0620},
                                          {1000.0, 0.0667},
                                          {1200.0, 0.0763}};
  static const ThermalLaw law = ThermalLaw::table(points);
  return law;
}

Joint::Flow Joint::flow(const ThermalLaw& left_conductivity,
                        const ThermalLaw& right_conductivity,
                        double left_K,
                        double right_K) const {
  const double difference_K = right_K - left_K;
  if (air_m > 0.0) {
    const ThermalLaw::Value on_left = air_conductivity_W_per_m_K().value(left_K);
    const ThermalLaw::Value on_right = air_conductivity_W_per_m_K().value(right_K);
    const double by_conduction = area / air_m;
    const double by_radiation = area * gap_emissivity * stefan_boltzmann_W_per_m2_K4;
    const double left2 = left_K * left_K;
    const double right2 = right_K * right_K;
    return {by_conduction * (on_right.integral - on_left.integral) +
                by_radiation * (right2 * right2 - left2 * left2),
            -by_conduction * on_left.at - 4.0 * by_radiation * left2 * left_K,
            by_conduction * on_right.at + 4.0 * by_radiation * right2 * right_K};
  }
  // q = A (T_r - T_l) / r with r = d_l/k_l(T_l) + R + d_r/k_r(T_r), so dr/dT = -d k'/k^2.
  const double k_left = left_conductivity.at(left_K);
  const double k_right = right_conductivity.at(right_K);
  const double resistance = left_half_m / k_left + resistance_m2_K_per_W + right_half_m / k_right;
  const double per_K = area / resistance;
  const double flow = per_K * difference_K;
  const double bend_left =
      flow / resistance * left_half_m * left_conductivity.slope(left_K) / (k_left * k_left);
  const double bend_right =
      flow / resistance * right_half_m * right_conductivity.slope(right_K) / (k_right * k_right);
  return {flow, -per_K + bend_left, per_K + bend_right};
}

}  // namespace thickset::conduction

#include "glass/moved_points.h"

#include <cmath>
#include <optional>

namespace thickset {

Glass with_points_moved(const Glass& glass,
                        TemperatureDifference all,
                        TemperatureDifference strain_point) {
  Glass moved = glass;
  moved.annealing_point.value = glass.annealing_point.value + all;
  moved.strain_point.value = glass.strain_point.value + all + strain_point;
  std::optional<Temperature> softening;
  if (moved.softening_point) {
    moved.softening_point->value = moved.softening_point->value + all;
    softening = moved.softening_point->value;
  }
  moved.viscosity =
      ViscosityCurve{moved.annealing_point.value, moved.strain_point.value, softening};
  RelaxationLaw& law = moved.relaxation;
  const double annealing_K = glass.annealing_point.value.in_K();
  // In equilibrium the time is exp(H/R (1/T - 1/T_ref)) times that at T_ref.
  law.mean_shear_time_s *= std::exp(law.activation_K * (1.0 / annealing_K - 1.0 / law.reference_K));
  law.reference_K = moved.annealing_point.value.in_K();
  law.activation_K *= moved.viscosity.activation_K() / glass.viscosity.activation_K();
  return moved;
}

}  // namespace thickset

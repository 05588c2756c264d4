#include "checking/opening.h"

#include <algorithm>

#include "stress/elastic.h"

namespace thickset {

Opening earliest_opening(const Casting& casting,
                         const History& history,
                         Temperature room,
                         Stress tension_limit,
                         double not_before_s) {
  const Glass& glass = casting.glass;
  const double half_m = 0.5 * equivalent_slabs(casting.governing_shape()).steady_difference.in_m();
  const double conductivity = glass.conductivity_W_per_m_K.value.at(room.in_K());
  const double biot = draught_film_W_per_m2_K * half_m / conductivity;
  const double hottest_K =
      std::min(Temperature::from_C(opening_limit_C).in_K(), room.in_K() + opening_above_room_K);
  Opening opening;
  for (const History::Row& row : history.rows) {
    if (row.time_s < not_before_s) continue;
    const double glass_K = std::max(row.centre_K, row.surface_K);
    const double tension_Pa =
        stress::opening_tension_Pa(glass.biaxial_stress_Pa_per_K(), biot, row.mean_K - room.in_K());
    const bool may_open = glass_K <= hottest_K && tension_Pa <= tension_limit.in_Pa();
    if (!may_open) {
      opening.opens = false;
    } else if (!opening.opens) {
      opening.opens = true;
      opening.after = seconds(row.time_s);
    }
  }
  return opening;
}

}  // namespace thickset

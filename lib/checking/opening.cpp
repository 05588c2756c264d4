#include "checking/opening.h"

#include <algorithm>
#include <limits>

#include "simulation/steady_cooling.h"
#include "stress/elastic.h"

namespace thickset {

double opening_tension_Pa(const Casting& casting,
                          TemperatureDifference above_room,
                          Temperature room,
                          const OpenedInto& into) {
  const Glass& glass = casting.glass;
  const double half_m = 0.5 * equivalent_slabs(casting).steady_difference.in_m();
  const double conductivity = glass.conductivity_W_per_m_K.value.at(room.in_K());
  double film_W_per_m2_K = into.film_W_per_m2_K;
  if (into.in_mould && casting.walls) {
    const Exchange air{into.film_W_per_m2_K, 0.0};
    double least_m2_K_per_W = std::numeric_limits<double>::infinity();
    for (const Wall* wall : {&casting.walls->top, &casting.walls->bottom}) {
      if (wall->insulated) continue;
      least_m2_K_per_W =
          std::min(least_m2_K_per_W, plane_wall(*wall, air, room).resistance_m2_K_per_W);
    }
    film_W_per_m2_K = 1.0 / least_m2_K_per_W;
  }
  return stress::opening_tension_Pa(
      glass.biaxial_stress_Pa_per_K(), film_W_per_m2_K * half_m / conductivity, above_room.in_K());
}

Opening earliest_opening(const Casting& casting,
                         const History& history,
                         Temperature room,
                         Stress tension_limit,
                         double not_before_s,
                         const OpenedInto& into) {
  const double hottest_K = std::min(opening_limit(room).in_K(), room.in_K() + opening_above_room_K);
  const double tension_Pa_per_K =
      opening_tension_Pa(casting, TemperatureDifference::from_K(1.0), room, into);
  const double highest_mean_K = room.in_K() + tension_limit.in_Pa() / tension_Pa_per_K;
  const auto too_hot_K = [&](const History::Row& row) {
    return std::max(
        {row.centre_K - hottest_K, row.surface_K - hottest_K, row.mean_K - highest_mean_K});
  };
  Opening opening;
  const History::Row* before = nullptr;
  for (const History::Row& row : history.rows) {
    if (row.time_s < not_before_s) continue;
    const double now_K = too_hot_K(row);
    if (now_K > 0.0) {
      opening.opens = false;
    } else if (!opening.opens) {
      // Straight between two rows: cooling slows down, so that the moment comes out late, if at
      // all.
      const double before_K = before ? too_hot_K(*before) : 0.0;
      const double share = before_K > 0.0 ? before_K / (before_K - now_K) : 1.0;
      const double before_s = before ? before->time_s : row.time_s;
      opening.opens = true;
      opening.after = seconds(before_s + share * (row.time_s - before_s));
    }
    before = &row;
  }
  return opening;
}

}  // namespace thickset

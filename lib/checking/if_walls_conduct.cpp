#include "checking/if_walls_conduct.h"

#include <algorithm>

#include "checking/opening.h"

namespace thickset {

std::vector<IfWallsConduct> if_walls_conduct(const Casting& casting,
                                             const Kiln& kiln,
                                             Controller::LateOnCooling late,
                                             const Program& program,
                                             const Firing& firing,
                                             const Limits& limits,
                                             std::span<const Bulk> held_to) {
  return if_walls_conduct(
      casting, firing.room, limits, held_to, [&](const Casting& changed, Bulk bulk) {
        return measure(changed, kiln, late, program, firing, {.bulk = bulk});
      });
}

std::vector<IfWallsConduct> if_walls_conduct(const Casting& casting,
                                             Temperature room,
                                             const Limits& limits,
                                             std::span<const Bulk> held_to,
                                             const MeasureCasting& measure_casting) {
  std::vector<IfWallsConduct> outcomes;
  if (!casting.walls || !casting.walls->any_assumed()) return outcomes;
  for (const double factor : tried_conductivity) {
    Casting changed = casting;
    changed.walls = casting.walls->with_assumed_conductivity_times(factor);
    IfWallsConduct outcome{.factor = factor,
                           .retardation = Retardation::from_nm_per_cm(0.0),
                           .peak_tension_Pa = 0.0,
                           .opens = true,
                           .open_after = Duration{0.0}};
    for (const Bulk bulk : held_to) {
      const Measured run = measure_casting(changed, bulk);
      outcome.retardation = std::max(outcome.retardation, run.permanent.retardation);
      outcome.peak_tension_Pa = std::max(outcome.peak_tension_Pa, run.peak_tension_Pa);
      const Opening opening =
          earliest_opening(changed, run.history, room, limits.tension, run.window_start_s);
      outcome.opens = outcome.opens && opening.opens;
      outcome.open_after = std::max(outcome.open_after, opening.after);
    }
    outcomes.push_back(outcome);
  }
  return outcomes;
}

}  // namespace thickset

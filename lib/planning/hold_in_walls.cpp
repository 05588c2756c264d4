#include "planning/hold_in_walls.h"

#include <cassert>

#include "checking/if_walls_conduct.h"

namespace thickset {

HoldInWalls hold_in_walls(const Casting& casting,
                          const Kiln& kiln,
                          const Firing& firing,
                          Rate setting_rate,
                          Temperature hold,
                          Degrees shown) {
  assert(casting.walls);
  const auto needed = [&](const Casting& changed) {
    return size_hold(changed, kiln, firing, setting_rate, hold, shown).needed();
  };
  Casting changed = casting;
  changed.walls = std::nullopt;
  HoldInWalls result{.bare = needed(changed)};
  if (!casting.walls->any_assumed()) return result;
  for (const double factor : tried_conductivity) {
    changed.walls = casting.walls->with_assumed_conductivity_times(factor);
    result.if_conduct.push_back({factor, needed(changed)});
  }
  return result;
}

}  // namespace thickset

#pragma once

#include "planning/hold.h"

#include <vector>

namespace thickset {

/// What its walls do to the hold of a casting.
struct HoldInWalls {
  Duration bare{0.0};  ///< what the glass alone, open all round, needs at the same temperature
  struct IfConduct {
    double factor;
    Duration needed;
  };
  /// Where assumed materials conduct half and twice as well; empty where none is assumed.
  std::vector<IfConduct> if_conduct{};
};

/// In: a casting with walls. Throws: as size_hold.
HoldInWalls hold_in_walls(const Casting& casting,
                          const Kiln& kiln,
                          const Firing& firing,
                          Rate setting_rate,
                          Temperature hold,
                          Degrees shown);

}  // namespace thickset

#pragma once

#include "checking/another_reading.h"
#include "checking/checked_program.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <vector>

namespace thickset {

/// A ramp whose pace is absurd for the casting, and what its number may have been meant as.
struct RampSuspect {
  std::size_t step;
  bool fast;
  std::optional<Rate> bearable;
  std::vector<AnotherReading> readings;    ///< likeliest first, at most two
  std::vector<AnotherReading> if_alike{};  ///< that would do where the other steps are read so too

  const AnotherReading* alike(AnotherReading::As as) const {
    const auto found =
        std::find_if(if_alike.begin(), if_alike.end(), [&](const AnotherReading& reading) {
          return reading.as == as;
        });
    return found == if_alike.end() ? nullptr : &*found;
  }
};

/// Those of a program for which some reading is near what the casting bears, or where it bears any
/// pace, near what the kiln takes by itself. Where one way of reading does for all that are too
/// fast, they are read so.
std::vector<RampSuspect> ramp_suspects(const CheckedProgram& checked);

}  // namespace thickset

#pragma once

#include "reporting/display.h"
#include "schedule/program.h"

#include <chrono>
#include <span>
#include <string>
#include <vector>

namespace thickset {

/// Hours of the day in which somebody looks in; past midnight where they end before they begin.
struct WakingHours {
  std::chrono::minutes from, to;  ///< since midnight, below 24 h, not the same
  bool hold(Clock clock) const;
};

/// Something to be there for.
struct MomentToLookIn {
  std::string what;  ///< "step 2 begins", "the program ends", "it may be opened"
  Duration after;    ///< the start
};

/// A start moved so that as many moments as can be fall in waking hours.
struct WakingStart {
  Clock start;
  std::vector<MomentToLookIn> asleep;  ///< those that still do not
};

/// The earliest such start within a day from `earliest` on, by quarters of an hour; the start
/// itself counts as a moment before all others.
WakingStart waking_start(Clock earliest,
                         const WakingHours& awake,
                         std::span<const MomentToLookIn> moments);

/// What was moved and what still falls in the night, in lines.
std::string waking_section(Clock asked, const WakingHours& awake, const WakingStart& moved);

}  // namespace thickset

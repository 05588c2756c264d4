#pragma once

#include "planning/plan_in_settings.h"
#include "sampling/how_sure.h"

#include <optional>
#include <span>

namespace thickset {

/// How sure a tail is to be.
struct WantedConfidence {
  double chance;                 ///< that a casting stays within a limit, of each limit
  std::uint64_t samples = 1024;  ///< that it is judged by
  unsigned threads = 0;
};

/// A tail planned so that enough of the castings it may meet stay within each limit.
struct ConfidentTail {
  TailInSetting planned;  ///< checked against the limits of the request
  HowSure sure;           ///< of the casting least likely to stay within them
  Limits aimed_at;        ///< tighter limits, that the tail was planned for
  bool reached;           ///< else it is the nearest found
  int rounds;
};

/// The tail for tighter limits: each divided by what the wanted share of the castings drawn stays
/// below under the plan before, until so many are within the limit itself; at most six rounds. It
/// is planned in whole steps and numbers of the controller as any other, and judged as it is keyed:
/// by other castings than those it was fitted to.
///
/// titles: of the study of each casting. Throws: as plan_tail_in_settings.
ConfidentTail plan_confident_tail(std::span<const Casting> castings,
                                  const Kiln& kiln,
                                  const Controller& controller,
                                  const TailRequest& request,
                                  const HeatUp& heat_up,
                                  std::optional<Degrees> degrees,
                                  const WantedConfidence& wanted,
                                  std::span<const std::string> titles);

}  // namespace thickset

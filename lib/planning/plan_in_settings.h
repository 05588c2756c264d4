#pragma once

#include <optional>
#include <span>
#include <string>

#include "planning/tail.h"
#include "schedule/heat_up.h"

namespace thickset {

/// A tail planned for the setting of a controller in which it is shortest.
struct TailInSetting {
  Controller set_to;  ///< the controller as it is to be set
  int heat_up_steps;  ///< of the controller, before those of the tail
  Tail tail;
  std::string choice;  ///< which setting and what each takes; empty: there was one to try
};

/// plan_tail in each of settings_of(controller): the tail that can be keyed and keeps its limits,
/// then the shortest, then the one of fewest steps. Tails closer than a thousandth are alike; of
/// settings alike in all the first is taken.
///
/// In: heat_up, whose steps are taken off those of the controller; sentences then count on from
///     them, but for ramp and hold lines, which are no steps.
///     degrees, those asked for: only settings in them are tried, where there are any, and notes
///     speak in them; nullopt: any, each in its own.
/// Throws: Error where the heat-up leaves no room for a tail in any setting.
TailInSetting plan_tail_in_settings(std::span<const Casting> castings,
                                    const Kiln& kiln,
                                    const Controller& controller,
                                    const TailRequest& request,
                                    const HeatUp& heat_up,
                                    std::optional<Degrees> degrees);

inline TailInSetting plan_tail_in_settings(const Casting& casting,
                                           const Kiln& kiln,
                                           const Controller& controller,
                                           const TailRequest& request,
                                           const HeatUp& heat_up,
                                           std::optional<Degrees> degrees) {
  return plan_tail_in_settings(std::span{&casting, 1}, kiln, controller, request, heat_up, degrees);
}

}  // namespace thickset

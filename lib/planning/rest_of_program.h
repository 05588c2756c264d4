#pragma once

#include "checking/firing_so_far.h"
#include "schedule/program.h"

#include <functional>
#include <optional>

namespace thickset {

/// A program parted at its anneal hold; what comes before and after it as ramps with holds at their
/// ends, in the order they run.
struct TailOfProgram {
  Temperature starts_at;
  std::vector<Step> before;  ///< the last is the ramp to the hold
  Temperature hold_at;
  Duration hold;
  std::vector<Step> after;
  bool relaxes = false;  ///< its hold, run as keyed

  /// Everything, from wherever the kiln is: at this pace to the hold, the hold, what comes after.
  Program whole(Pace to_hold, Duration hold_for) const;

  /// How long a kiln has been near a temperature, until now.
  using LevelAt = std::function<Duration(Temperature)>;

  /// What is left of it for a kiln that is here: the rest of the hold or of a later one where it is
  /// at its temperature, else the ramp that passes here, from here on. Above the hold, all of it
  /// but what comes before.
  Program rest(Temperature here, const LevelAt& level_at) const;

  /// Everything that is left for a firing, known from its start, that has not come to the hold yet;
  /// nullopt where it has, or is not known so far back. A target counts as reached, and the clock
  /// of a hold runs, once the kiln came as near to it as its sensor is true, after the target
  /// before; or was within reached_within of it for half an hour.
  std::optional<Program> rest_before_hold(const FiringSoFar& so_far) const;

  /// The ramps and holds below here, without what is left of a hold here.
  Program below(Temperature here) const;
};

/// Within this of a hold's temperature the kiln is at the hold: as far as its sensor may be off.
TemperatureDifference at_hold_within(Temperature hold);

/// Logged readings of a hold may differ from its target by so much. Our own bound.
inline constexpr auto reached_within = TemperatureDifference::from_K(10.0);

/// Throws: Error at `place` where the program has no hold that anneals this glass.
TailOfProgram tail_of(const Program& program,
                      const Casting& casting,
                      const Kiln& kiln,
                      const Firing& firing,
                      const Place& place);

/// A tail that is come to as by these steps, the last of which leads to its hold instead of theirs.
TailOfProgram led_to_by(std::vector<Step> before, TailOfProgram tail);

/// Readings of a hold go up and down: level is what stays this near to it, or comes back within 20
/// minutes. Our own bounds.
TemperatureDifference level_within(Temperature hold);

/// How long the kiln has been level at this temperature, until now.
Duration level_for(const FiringSoFar& so_far, Temperature at);

/// The same program with every ramp so many times as slow.
Program slower(const Program& program, Temperature from, double factor);

}  // namespace thickset

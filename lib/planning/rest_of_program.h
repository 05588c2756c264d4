#pragma once

#include "checking/firing_so_far.h"
#include "schedule/program.h"

#include <optional>

namespace thickset {

/// A program's anneal hold and what comes after it, as ramps with holds at their ends.
struct TailOfProgram {
  Temperature hold_at;
  Duration hold;
  std::vector<Step> after;  ///< targets, paces and holds, in the order they run

  /// Everything, from wherever the kiln is: at this pace to the hold, the hold, what comes after.
  Program whole(Pace to_hold, Duration hold_for) const;

  /// What is left of it for a kiln that is here and has been level for so long: the rest of the
  /// hold or of a later one where it is at its temperature, else the ramp that passes here, from
  /// here on. Above the hold, all of it.
  Program rest(Temperature here, Duration level_for) const;

  /// The ramps and holds below here, without what is left of a hold here.
  Program below(Temperature here) const;
};

/// Within this of a hold's temperature the kiln is at the hold.
inline constexpr auto at_hold_within = TemperatureDifference::from_K(2.0);

/// Throws: Error at `place` where the program has no hold that anneals this glass.
TailOfProgram tail_of(const Program& program,
                      const Casting& casting,
                      const Kiln& kiln,
                      const Firing& firing,
                      const Place& place);

/// How long the kiln has been within 4 K of what it shows now, until now: readings of a hold go up
/// and down.
Duration level_for(const FiringSoFar& so_far);

/// The same program with every ramp so many times as slow.
Program slower(const Program& program, Temperature from, double factor);

}  // namespace thickset

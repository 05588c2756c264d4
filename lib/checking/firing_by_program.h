#pragma once

#include "checking/firing_so_far.h"
#include "schedule/program.h"

#include <optional>

namespace thickset {

/// What a person knows of a firing without a log.
struct KnownMoment {
  std::optional<Duration> since_hold{};   ///< that the program's hold ended, by the clock
  std::optional<Duration> since_start{};  ///< or that the program began
  std::optional<Duration> off_for{};      ///< the elements were off for so long, until now
  Temperature display;
};

/// A program as this controller in this kiln would have run it, brought to what the display shows.
///
/// Display and program within the sensor's tolerance, or the kiln hotter by up to 30 K in a hold or
/// while it heats, 10 K where it has just left a hold: the program. The kiln below the program:
/// where that has it fall by itself, it falls quicker than its file says, by up to twice; else it
/// fell by itself for the last while, whose length is off_for or is found from the kiln's own fall;
/// an off_for makes that fall slower, or quicker by up to twice, to fit. The kiln above: the fall
/// so far went slower, by up to four times. Every such assumption is put into words, in the degrees
/// to be shown. Throws: Error where the program cannot have come to this.
FiringSoFar so_far(const Program& program,
                   const KnownMoment& known,
                   const Casting& casting,
                   const Kiln& kiln,
                   Controller::LateOnCooling late,
                   const Firing& firing,
                   Degrees shown);

}  // namespace thickset

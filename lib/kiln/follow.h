#pragma once

#include "kiln/kiln.h"
#include "schedule/controller.h"
#include "schedule/program.h"

#include <string>
#include <vector>

namespace thickset {

/// Kiln temperature against time: straight lines between corners; two corners at one time are a
/// jump.
struct AirCurve {
  struct Corner {
    double time_s;
    double T_K;
    int step;  ///< index of the program's step under way before this corner; -1 at the start
  };
  std::vector<Corner> corners;  ///< times never run backwards; the first is at 0 s

  double end_s() const { return corners.back().time_s; }

  /// After the jump where there is one; before the first corner and after the last, their values.
  double at_K(double time_s) const;
};

/// A program as one kiln runs it.
struct FollowedProgram {
  AirCurve air;

  /// Where the kiln could not follow: it arrived, or will arrive, this much later than the program,
  /// and was at most this far above it (below it, as a negative number, where it heats).
  struct Late {
    int step;
    Duration late;
    TemperatureDifference above;
  };
  std::vector<Late> late;
  bool broken_off = false;  ///< the controller stops when the kiln is late, and it was
};

/// The kiln's own temperature under a program: it falls no faster than by natural cooling and heats
/// no faster than it can. Curved natural cooling becomes straight lines within 0.05 K of it.
///
/// The setpoint runs by the clock; where the kiln has not arrived at the end of a ramp, `late`
/// decides:
///   waits    the step lasts until it has, then the hold runs in full;
///   goes_on  the next step begins on time, the kiln falls on until it meets the setpoint again;
///   stops    the program is broken off, the kiln falls naturally until it is within 1 K of the
///   room.
/// and just so on heating. A lateness under one minute is none. AsFastAsPossible has no time to
/// keep: under every behaviour the setpoint jumps to the target and the step lasts until the kiln
/// is there. A target the kiln reaches only in infinite time counts as reached 1 K above the room.
///
/// In: start, where the kiln is when the program begins; the program's own start row, where it has
///     one, is where the setpoint begins.
FollowedProgram follow(const Program& program,
                       const Kiln& kiln,
                       Controller::LateOnCooling late,
                       Temperature start);

}  // namespace thickset

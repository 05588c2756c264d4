#pragma once

#include "schedule/controller.h"
#include "schedule/program.h"

#include <string>
#include <vector>

namespace thickset {

/// A program in the steps a controller has, and what that cost.
struct FittedProgram {
  Program program;             ///< in the controller's notation, degrees and whole numbers
  std::vector<int> from_step;  ///< for each fitted step, the step of the given program
  /// Each loss in a sentence; empty: the program is exact. Steps are counted as in the given
  /// program, with the numbers they are keyed as behind them where those are others.
  std::vector<std::string> changes;
  std::vector<std::string> splits;  ///< each step keyed in several parts, a sentence each
  std::vector<std::string> cannot;  ///< what cannot be keyed at all, a sentence each
  /// For rates slower than the controller takes: what would come nearer, a sentence each. Not
  /// keyed, since it runs faster than asked in places; a simulation has to decide.
  std::vector<std::string> nearer;
  /// By how much the times of ramps and holds differ from those asked, added up; what is as fast as
  /// possible is left out.
  Duration lost{0.0};
};

/// How fast the kiln goes by itself, both > 0.
struct OwnPace {
  OwnPace(Rate either_way) : cooling{either_way}, heating{either_way} {}
  OwnPace(Rate falling, Rate rising) : cooling{falling}, heating{rising} {}
  Rate cooling, heating;
};

/// Writes a program as a controller takes it, always to the slower side.
///
/// Targets: a hold to the nearest step of the display; the boundary between two ramps to the side
/// that
///   lengthens the slower one, so the bottom of a cooling step goes down where the next is faster;
///   the last cooling target down.
/// Rates: down to a step of the controller. Times: from the rounded targets at the asked rate,
/// never
///   less than the asked time, then up; holds up. No rounded step is faster than asked.
/// Steps longer than the controller allows become equal parts at no more than the same rate, joined
/// at
///   temperatures it can show; long holds become several.
/// AsFastAsPossible stays where the controller has a key for it; else it becomes the fastest pace
/// that
///   can be keyed and is not above own_pace.
/// A start row is rounded only where the controller keeps a stored start, and added where it needs
/// one. Differences of temperature convert by 1.8 only.
///
/// In:  start, the temperature the program begins at when it has no start row;
///      own_pace, the rate used for AsFastAsPossible where the controller has no key for it.
/// Too many steps, a rate slower than the slowest the controller takes (rates cannot be split) or a
/// target outside its range go to `cannot`; the program is then still the nearest one.
/// In the setting the controller is described in; fit_to_settings tries the others.
FittedProgram fit_to_controller(const Program& program,
                                const Controller& controller,
                                Temperature start,
                                const OwnPace& own_pace);

}  // namespace thickset

#pragma once

#include "schedule/controller.h"
#include "schedule/program.h"

#include <string>
#include <vector>

namespace thickset {

/// A program in the steps a controller has, and what that cost.
struct FittedProgram {
  Program program;                   ///< in the controller's notation, degrees and whole numbers
  std::vector<int> from_step;        ///< for each fitted step, the step of the given program
  std::vector<std::string> changes;  ///< each loss in a sentence; empty: the program is exact
  std::vector<std::string> cannot;   ///< what cannot be keyed at all, a sentence each
};

/// Writes a program as a controller takes it, always to the slower side: times and holds up,
/// cooling and heating rates down, targets to the nearest step of the display (the bottom of a
/// cooling step down), steps longer than the controller allows split into equal parts at the same
/// rate, and a hold of its own where the form keeps holds apart. Differences of temperature convert
/// by 1.8 only.
///
/// In:  start, the temperature the program begins at when it has no start row;
///      own_pace, the rate used for AsFastAsPossible where the controller has no key for it.
/// Too many steps, a rate slower than the slowest the controller takes (after splitting cannot
/// help) or a target outside its range go to `cannot`; the program is then still the nearest one.
FittedProgram fit_to_controller(const Program& program,
                                const Controller& controller,
                                Temperature start,
                                Rate own_pace);

}  // namespace thickset

#pragma once

#include "checking/finding.h"
#include "checking/measure.h"

#include <vector>

namespace thickset {

/// What is wrong with the anneal hold, or worth knowing about it: missing, too cool, too hot, too
/// short to relax or to even out. Sentences are in the degrees to be shown.
std::vector<Finding> hold_findings(const Casting& casting,
                                   const Kiln& kiln,
                                   const Measured& measured,
                                   Degrees shown);

/// Where the kiln cannot follow; over where the controller then breaks off, with the rate that the
/// kiln would keep to the step's end.
std::vector<Finding> late_findings(const Kiln& kiln,
                                   const Program& program,
                                   const Firing& firing,
                                   const FollowedProgram& followed,
                                   Degrees shown);

/// What else a person should know of the program: a step heats, the end is too hot or below the
/// room, the casting or a temperature is outside what the models were made for.
std::vector<Finding> program_notes(const Casting& casting,
                                   const Program& program,
                                   const Firing& firing,
                                   const Measured& measured,
                                   Degrees shown);

/// The casting or a temperature is outside what the models were made for.
std::vector<Finding> casting_notes(const Casting& casting, const History& history, Degrees shown);

/// Steps that this controller cannot be told as they stand.
std::vector<Finding> controller_notes(const Program& program,
                                      const Controller& controller,
                                      Temperature start);

}  // namespace thickset

#pragma once

#include "checking/limits.h"
#include "checking/measure.h"

#include <functional>
#include <optional>

namespace thickset {

/// Runs a program and measures it: everything but the program is already chosen.
using MeasureProgram = std::function<Measured(const Program&)>;

/// Where a step begins, ends and how fast its ramp is, as keyed.
struct KeyedStep {
  Temperature from, to;
  std::optional<Rate> rate;  ///< positive; nullopt: as fast as possible, or no ramp
  Duration hold{0.0};
};
KeyedStep keyed_step(const Program& program, std::size_t step, Temperature start);

/// The program with one step's ramp at another rate, its hold unchanged.
Program with_rate(const Program& program, std::size_t step, Rate rate);

/// The fastest rate of one step, everything else unchanged, at which `value` of the run is within
/// limit; nullopt where slowing that step alone does not mend it.
///
/// Error: 1 % of the rate, on the slow side.
std::optional<Rate> passing_rate(const MeasureProgram& measure_program,
                                 const Program& program,
                                 std::size_t step,
                                 Temperature start,
                                 const std::function<double(const Measured&)>& value,
                                 double limit);

/// The same search for anything that can be run at another rate: the fastest at which value_at is
/// within the limit, from the rate as it was run and its value down; nullopt where none is found.
std::optional<Rate> fastest_passing(Rate as_run,
                                    double value_as_run,
                                    const std::function<double(Rate)>& value_at,
                                    double limit);

}  // namespace thickset

#pragma once

#include "schedule/program.h"

namespace thickset {

/// The same program in another notation and other degrees, without rounding: a ramp's minutes become
/// the rate that takes them and the other way round, holds keep their minutes, as fast as possible
/// stays what it is. Differences of temperature convert by 1.8 only.
///
/// In:  start, where the program begins when it has no start row; needed where its first step is a
///      ramp whose pace has to be converted.
/// Throws: Error when it is needed and not given.
Program rewritten(const Program& program,
                  Notation notation,
                  Degrees degrees,
                  std::optional<Temperature> start);

}  // namespace thickset

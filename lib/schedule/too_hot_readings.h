#pragma once

#include "schedule/log_faults.h"

#include <span>
#include <string>

namespace thickset {

/// Readings above what a kiln has that go on smoothly into the ones beside them are no code of a
/// broken sensor: the column is in F, whatever its header says.
///
/// In:     as_written_K, the readings before any was left out; time_s, NaN where there is none.
/// Throws: Error with the first such reading, which asks for the header's unit. Nothing is guessed:
///         a log in F from its hottest to its coolest reading is plausible in C below 1400 as well.
void refuse_fahrenheit_as_celsius(const SensorReadings& sensor,
                                  std::span<const double> as_written_K,
                                  std::span<const double> time_s,
                                  std::span<const int> line,
                                  const std::string& source_name);

}  // namespace thickset

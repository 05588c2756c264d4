#pragma once

#include "base/place.h"
#include "kiln/fit_cooling.h"
#include "kiln/fit_second_sensor.h"
#include "schedule/firing_log.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// A fit that differs from its readings by more in the mean is doubted.
inline constexpr double poor_rms_K = 5.0;

/// Which part of a log is the kiln falling by itself, since its first reading.
struct LogPart {
  double from_s, to_s;
};

/// A kiln's own fall, learnt from a log.
struct KilnFromLog {
  CoolingFit fit;
  LogPart part;
  std::size_t readings;  ///< in that part
  std::optional<SecondSensor> second;
  std::vector<std::string> doubts;  ///< why it may be no fall of the kiln's own
};

/// In:     second, the same log by its other sensor; part, else the longest fall after the hottest
///         reading. The elements must have been off all that time: a straight fall over 60 K or
///         more is doubted.
/// Throws: Error at `place`, as fit_cooling.
KilnFromLog kiln_from_log(const FiringLog& log,
                          const std::optional<FiringLog>& second,
                          Temperature room,
                          const std::optional<LogPart>& part,
                          Degrees shown,
                          const Place& place);

}  // namespace thickset

#pragma once

#include "schedule/firing_log.h"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

/// The times of a log: how they are written, and how they become seconds since its start.
namespace thickset {

/// How a log tells the time.
enum class LogTimeForm {
  dated,    ///< date and time, without a zone: what a clock on the wall showed
  zoned,    ///< date and time with a zone: no change of the clock is in doubt
  clock,    ///< time of day alone
  elapsed,  ///< since the start
};

/// "2026-11-28T09:40", "2026-11-28 09:40:05.5+01:00": ISO 8601, extended form; the proleptic
/// Gregorian calendar, years 1900 to 2199; "24:00" and a 60th second are none.
struct DatedTime {
  double local_s;               ///< since 1970-01-01 on that clock
  std::optional<int> zone_min;  ///< ahead of UTC
};
std::optional<DatedTime> parse_dated_time(std::string_view text);

/// "2026-11-28": days since 1970-01-01.
std::optional<int> parse_date(std::string_view text);

/// "9:40", "09:40:05", "9:40 pm": seconds since midnight.
std::optional<double> parse_clock_time(std::string_view text);

/// Times as they were read, one a row.
struct RawTimes {
  LogTimeForm form;
  std::vector<double> written_s;  ///< on the log's own clock; zoned: in the zone of its first row
  std::vector<int> line;
};

/// Seconds since the first row, never falling; NaN for a row that is left out.
///
/// A time of day alone that goes back by over twelve hours is the next day; where such a log is
/// kept by hand (the middle of its steps is ten minutes or more) any that goes back is. Else,
/// without a zone, a clock that goes back by an hour, or forward by one where the readings go on as
/// if it had not, was changed. A row earlier than the one before is left out.
///
/// In:     T_K, the readings of the sensor in use, NaN where there is none; as long as the times.
/// Throws: Error where more rows than a stray few run backwards, or the log is longer than 1000
///         days.
std::vector<double> continuous_times(const RawTimes& times,
                                     std::span<const double> T_K,
                                     const std::string& source_name,
                                     LogRemarks& remarks);

/// The middle one of the positive steps of rising values; 0 where there is none.
double typical_step(std::span<const double> rising);

}  // namespace thickset

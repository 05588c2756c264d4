#pragma once

#include "units/temperature.h"

#include <chrono>
#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// What can be wrong with a log of a firing.
enum class LogFault {
  cut_short,        ///< the file ends in the middle of a row
  column_unread,    ///< a column that is neither time nor a sensor
  repeated_time,    ///< several rows at one time
  reversed_time,    ///< a row earlier than the one before
  next_day,         ///< a time of day over half a day after the one before, by the rule alone
  clock_change,     ///< the clock was put forward or back by an hour
  zone_change,      ///< the zone of the times changes, the times are clear
  missing,          ///< an empty field, a word or a number that stands for no reading
  other_degrees,    ///< readings in the degrees that the header does not name
  spike,            ///< readings that leave their neighbours and come back
  frozen,           ///< the same reading again and again, then a jump
  gap,              ///< no reading for long
  sensors_disagree  ///< one sensor stays above or below the one used
};

/// One line for a person: what was found, in which line of the file, and what was done with it.
struct LogRemark {
  LogFault fault;
  int line;  ///< of the file, the first that shows it; 0: none in particular
  std::string text;
};

/// Remarks as they are found; of one kind the first few are kept and the rest counted.
class LogRemarks {
 public:
  void add(LogFault fault, int line, std::string text);
  /// In the order of their kinds. Empties this.
  std::vector<LogRemark> take();

 private:
  static constexpr int most_of_a_kind = 4;
  static constexpr int kinds = static_cast<int>(LogFault::sensors_disagree) + 1;
  std::vector<LogRemark> kept_[kinds];
  int count_[kinds] = {};
  int last_line_[kinds] = {};
};

/// When a log begins on the wall clock; without a date only the time of day counts.
struct LogClock {
  std::chrono::local_seconds first;
  bool dated = false;
};

/// The readings of one sensor in a real firing, in the order of time, what was wrong left out.
struct FiringLog {
  std::string source;
  std::string sensor;  ///< the column's name
  Degrees degrees = Degrees::celsius;
  std::optional<LogClock> clock;  ///< nullopt: only time since the start is known
  std::vector<double> time_s;     ///< since the first reading; each later than the one before
  std::vector<double> T_K;
  std::vector<int> line;       ///< of the file
  double interval_s = 0.0;     ///< the middle one of the times between readings
  double resolution_K = 0.0;   ///< smallest step between readings
  double longest_gap_s = 0.0;  ///< of those that were remarked on
  std::vector<LogRemark> remarks;
};

}  // namespace thickset

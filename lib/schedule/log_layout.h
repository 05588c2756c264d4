#pragma once

#include "schedule/firing_log.h"
#include "schedule/log_rows.h"
#include "units/temperature.h"

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// What a column of a log holds, by its name.
struct LogColumn {
  enum class Role { time, clock, date, elapsed, sensor, told, unread };
  Role role = Role::unread;
  double unit_s = 0.0;  ///< of elapsed time
  Degrees degrees = Degrees::celsius;

  bool tells_time() const {
    return role == Role::time || role == Role::clock || role == Role::elapsed;
  }
};

/// time, clock, date, seconds, minutes, hours and note; any other name that ends in _C or _F is a
/// sensor, but for target, set and setpoint.
LogColumn log_column_of(std::string_view name);

/// Which columns of a log to read, and how.
struct LogLayout {
  std::vector<LogColumn> columns;
  std::size_t time = 0;
  std::optional<std::size_t> date;
  std::vector<std::size_t> sensors;
  std::size_t last_needed = 0;  ///< of the columns that tell the time

  /// Index into `sensors` of the one asked for; where none is asked for air, kiln, or the first.
  /// Throws: Error where there is no such sensor.
  std::size_t sensor_to_use(const LogRows& rows, const std::string& asked) const;
};

/// The layout that a header gives. Throws: Error where no column or two tell the time, none holds
/// temperatures, or two have one name.
LogLayout layout_of(const LogRows& rows, LogRemarks& remarks);

}  // namespace thickset

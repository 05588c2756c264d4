#pragma once

#include "base/progress.h"
#include "schedule/firing_log.h"
#include "schedule/log_faults.h"
#include "schedule/log_layout.h"
#include "schedule/log_rows.h"
#include "schedule/log_times.h"

#include <string>
#include <vector>

namespace thickset {

/// The rows of a log as they were written: times on the log's own clock and the readings of all
/// sensors, NaN where there is none.
struct WrittenLog {
  RawTimes times;
  std::vector<SensorReadings> sensors;  ///< in the order of the layout, as long as the times
};

/// Reads all rows; remarks on readings that are missing, zones that change and a last row that is
/// cut short. Throws: Error with every bad row, or where there are more than two million.
WrittenLog read_rows(LogRows& rows,
                     const LogLayout& layout,
                     const std::string& source_name,
                     LogRemarks& remarks,
                     const Progress& progress);

}  // namespace thickset

#include "schedule/read_log.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "schedule/fault_text.h"
#include "schedule/frozen_readings.h"
#include "schedule/log_faults.h"
#include "schedule/log_layout.h"
#include "schedule/log_numbers.h"
#include "schedule/log_reader.h"
#include "schedule/log_rows.h"
#include "schedule/log_times.h"
#include "schedule/too_hot_readings.h"

namespace thickset {
namespace {

constexpr double same_time_s = 1e-3;  // rows nearer than this are at one time

/// Readings of one time become their mean, rows without a time or a reading go.
void keep_readings(const std::vector<double>& time_s,
                   const SensorReadings& sensor,
                   const std::vector<int>& line,
                   FiringLog& log) {
  std::size_t at_one_time = 0;
  for (std::size_t i = 0; i < time_s.size(); ++i) {
    if (std::isnan(time_s[i]) || std::isnan(sensor.T_K[i])) continue;
    if (!log.time_s.empty() && time_s[i] - log.time_s.back() < same_time_s) {
      ++at_one_time;
      const double share = 1.0 / static_cast<double>(at_one_time + 1);
      log.T_K.back() += share * (sensor.T_K[i] - log.T_K.back());
      continue;
    }
    at_one_time = 0;
    log.time_s.push_back(time_s[i]);
    log.T_K.push_back(sensor.T_K[i]);
    log.line.push_back(line[i]);
  }
}

void remark_repeats(const std::vector<double>& time_s,
                    const std::vector<int>& line,
                    LogRemarks& remarks) {
  std::size_t count = 0;
  int first_line = 0;
  double last_s = no_reading;
  for (std::size_t i = 0; i < time_s.size(); ++i) {
    if (std::isnan(time_s[i])) continue;
    if (time_s[i] - last_s < same_time_s) {
      if (count++ == 0) first_line = line[i];
    } else {
      last_s = time_s[i];
    }
  }
  if (count == 0) return;
  remarks.add(
      LogFault::repeated_time,
      first_line,
      fmt::format("line {}{} at the same time as the row before: their readings are taken "
                  "as one, the mean",
                  first_line,
                  count == 1 ? " stands" : fmt::format(" and {} more rows stand", count - 1)));
}

double smallest_step_K(const std::vector<double>& T_K) {
  constexpr double no_step_K = 0.005;  // below it, noise of a conversion
  double smallest_K = std::numeric_limits<double>::infinity();
  for (std::size_t i = 1; i < T_K.size(); ++i) {
    const double step_K = std::abs(T_K[i] - T_K[i - 1]);
    if (step_K > no_step_K) smallest_K = std::min(smallest_K, step_K);
  }
  constexpr double coarsest_K = 1.0;  // whole degrees; larger steps are the firing's own
  return std::isfinite(smallest_K) ? std::min(smallest_K, coarsest_K) : 0.0;
}

}  // namespace

bool looks_like_log(std::string_view text) {
  bool time = false;
  try {
    const std::string no_name;
    const LogRows rows{text, no_name};
    for (const std::string_view name : rows.header()) {
      if (name.starts_with("target") || name.starts_with("rate") || name == "hold_min")
        return false;
      const LogColumn column = log_column_of(name);
      time = time || column.tells_time() || column.role == LogColumn::Role::date ||
             column.role == LogColumn::Role::sensor;
    }
  } catch (const Error&) {
    return false;
  }
  return time;
}

FiringLog parse_log(std::string_view text,
                    const std::string& source_name,
                    const std::string& sensor,
                    const Progress& progress) {
  LogRemarks remarks;
  LogRows rows{text, source_name};
  const LogLayout layout = layout_of(rows, remarks);
  WrittenLog written = read_rows(rows, layout, source_name, remarks, progress);
  std::vector<SensorReadings>& sensors = written.sensors;
  const RawTimes& raw = written.times;
  const std::size_t use = layout.sensor_to_use(rows, sensor);
  SensorReadings& used = sensors[use];

  const std::vector<double> as_written_K = used.T_K;
  for (SensorReadings& each : sensors) leave_out_codes(each, raw.line, remarks);
  const std::vector<double> time_s = continuous_times(raw, used.T_K, source_name, remarks);
  refuse_fahrenheit_as_celsius(used, as_written_K, time_s, raw.line, source_name);
  remark_repeats(time_s, raw.line, remarks);
  // A row without a time has no reading either.
  for (std::size_t i = 0; i < time_s.size(); ++i) {
    if (!std::isnan(time_s[i])) continue;
    for (SensorReadings& each : sensors) each.T_K[i] = no_reading;
  }
  for (SensorReadings& each : sensors) {
    turn_other_degrees(each, time_s, raw.line, remarks);
    leave_out_spikes(each, time_s, raw.line, remarks);
    leave_out_frozen(each, time_s, raw.line, remarks);
  }
  for (std::size_t s = 0; s < sensors.size(); ++s) {
    const std::string& name = sensors[s].name;
    const bool in_or_at_glass = name.starts_with("mould") || name.starts_with("glass") ||
                                name.starts_with("shelf") || name.starts_with("room");
    if (s != use && !in_or_at_glass) compare_sensors(used, sensors[s], time_s, remarks);
  }

  FiringLog log{.source = source_name,
                .sensor = used.name,
                .degrees = used.degrees,
                .clock = {},
                .time_s = {},
                .T_K = {},
                .line = {},
                .remarks = {}};
  keep_readings(time_s, used, raw.line, log);
  const Place place{source_name};
  if (log.time_s.size() < 2) {
    throw Error{place,
                fmt::format("{} holds fewer than two readings at different times", used.name),
                "check that the log was saved whole, or name another column with --sensor"};
  }
  std::size_t with_reading = 0;
  for (const double T_K : used.T_K) with_reading += std::isnan(T_K) ? 0u : 1u;
  if (2 * with_reading < used.T_K.size()) {
    const auto first = static_cast<std::size_t>(
        std::find_if(used.T_K.begin(), used.T_K.end(), [](double T_K) { return std::isnan(T_K); }) -
        used.T_K.begin());
    throw Error{place,
                fmt::format("{} of the {} rows have no usable reading of {}, the first in line {} "
                            "({})",
                            used.T_K.size() - with_reading,
                            used.T_K.size(),
                            used.name,
                            raw.line[first],
                            std::isnan(as_written_K[first]) ? "no number"
                                                            : shown(used, as_written_K[first])),
                "check the column and its unit in the header, or name another with --sensor"};
  }
  const double first_s = log.time_s.front();
  for (double& t_s : log.time_s) t_s -= first_s;
  if (raw.form != LogTimeForm::elapsed) {
    const auto whole_s = static_cast<long long>(std::llround(raw.written_s.front() + first_s));
    log.clock = LogClock{std::chrono::local_seconds{std::chrono::seconds{whole_s}},
                         raw.form != LogTimeForm::clock};
  }
  log.interval_s = typical_step(log.time_s);
  log.resolution_K = smallest_step_K(log.T_K);
  log.longest_gap_s = remark_gaps(log.time_s, log.T_K, log.line, log.degrees, remarks);
  log.remarks = remarks.take();
  return log;
}

}  // namespace thickset

#include "schedule/log_reader.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>
#include <utility>

#include <fmt/format.h>

#include "base/problems.h"
#include "base/text.h"
#include "schedule/log_numbers.h"
#include "schedule/row_faults.h"

namespace thickset {
namespace {

constexpr std::size_t most_rows = 2'000'000;
constexpr std::size_t rows_between_reports = 50'000;

/// The rows as they were written: times and readings of all sensors.
class Reader {
 public:
  Reader(LogRows& rows,
         const LogLayout& layout,
         const std::string& source_name,
         LogRemarks& remarks,
         const Progress& progress)
      : rows_{rows},
        layout_{layout},
        source_name_{source_name},
        remarks_{remarks},
        progress_{progress},
        decimal_comma_{rows.separator() != ','} {
    for (const std::size_t i : layout.sensors) {
      sensors_.push_back(
          {.name = std::string{rows.header()[i]}, .degrees = layout.columns[i].degrees, .T_K = {}});
      missing_.push_back({});
    }
    switch (layout.columns[layout.time].role) {
      case LogColumn::Role::clock:
        of_clock_ = true;
        times_.form = layout.date ? LogTimeForm::dated : LogTimeForm::clock;
        break;
      case LogColumn::Role::time:
        of_clock_ = layout.date.has_value();  // beside a date it can be nothing else
        times_.form = LogTimeForm::dated;
        break;
      default: times_.form = LogTimeForm::elapsed; break;
    }
  }

  void run() {
    for (;;) {
      try {
        if (!rows_.next()) break;
        if (times_.written_s.size() == most_rows) {
          problems_.add(Place{source_name_},
                        fmt::format("more than {} rows", most_rows),
                        "thin the log out, or cut it into firings");
          break;
        }
        read_row();
      } catch (const BadRow& bad) {
        faults_.add(rows_.place(), bad.what, bad.mend);
      } catch (const Error& error) {
        problems_.add(error);
      }
    }
    faults_.add_to(problems_);
    problems_.throw_if_any();
    for (std::size_t s = 0; s < sensors_.size(); ++s) end_missing(s);
  }

  WrittenLog take() && { return {std::move(times_), std::move(sensors_)}; }

 private:
  struct BadRow {
    std::string what, mend;
  };
  struct Missing {
    int first_line = 0, last_line = 0;
    int count = 0;
    std::string said;
  };

  void read_row() {
    const std::vector<std::string_view>& fields = rows_.fields();
    const std::size_t columns = rows_.header().size();
    if (fields.size() > columns) {
      const bool commas = !decimal_comma_;
      throw BadRow{fmt::format("{} fields, the header has {}", fields.size(), columns),
                   commas ? "write decimals with a point or separate fields by semicolons; put "
                            "quotes around a note with a comma in it"
                          : "remove a separator, or put quotes around a field that holds one"};
    }
    if (rows_.may_be_cut_short() && seems_cut_short()) {
      remarks_.add(
          LogFault::cut_short,
          rows_.line(),
          fmt::format("line {}: the file ends in the middle of this row: left out", rows_.line()));
      return;
    }
    if (fields.size() <= layout_.last_needed || fields[layout_.time].empty()) {
      throw BadRow{"the time is missing", "write it, or leave the row out"};
    }
    const double written_s = read_time(fields);
    // All fields are read before anything is kept: a bad row leaves the columns equally long.
    readings_.clear();
    for (std::size_t s = 0; s < sensors_.size(); ++s) readings_.push_back(read_sensor(s, fields));
    times_.written_s.push_back(written_s);
    times_.line.push_back(rows_.line());
    for (std::size_t s = 0; s < sensors_.size(); ++s) sensors_[s].T_K.push_back(readings_[s]);
    if (times_.written_s.size() % rows_between_reports == 0 && progress_) {
      progress_(fmt::format("reading the log: {} rows", times_.written_s.size()));
    }
  }

  /// The last line has no line break: whether its last reading may lack digits.
  bool seems_cut_short() const {
    const std::vector<std::string_view>& fields = rows_.fields();
    if (fields.size() < rows_.header().size()) {
      // A note may be left out, a reading not.
      const std::size_t last_sensor = layout_.sensors.back();
      if (fields.size() <= std::max(last_sensor, layout_.last_needed)) return true;
    }
    if (fields.size() - 1 != layout_.sensors.back() || sensors_.back().T_K.empty()) return false;
    constexpr double far_K = 20.0;
    const std::optional<double> value = parse_log_number(fields.back(), decimal_comma_);
    if (!value) return false;
    const double T_K = from_degrees(*value, sensors_.back().degrees).in_K();
    return std::abs(T_K - sensors_.back().T_K.back()) > far_K;
  }

  double read_clock_time(std::string_view text, const std::vector<std::string_view>& fields) const {
    const std::optional<double> clock_s = parse_clock_time(text);
    if (!clock_s) {
      throw BadRow{
          fmt::format(
              "{} in {} is not a time of day", in_quotes(text), rows_.header()[layout_.time]),
          "write it with colons, such as 09:40, 9:40 pm or 21:40:30"};
    }
    if (!layout_.date) return *clock_s;
    const std::optional<int> days = parse_date(fields[*layout_.date]);
    if (!days) {
      throw BadRow{fmt::format("{} in date is not a date", in_quotes(fields[*layout_.date])),
                   "write year-month-day, such as 2026-11-28; day and month the other way round "
                   "cannot be told apart"};
    }
    return *days * day_s + *clock_s;
  }

  double read_time(const std::vector<std::string_view>& fields) {
    const std::string_view text = fields[layout_.time];
    const LogColumn& column = layout_.columns[layout_.time];
    if (column.role == LogColumn::Role::elapsed) {
      const std::optional<double> value = parse_log_number(text, decimal_comma_);
      if (!value || std::abs(*value * column.unit_s) > 1e10) {
        throw BadRow{fmt::format("{} in {} is not a time since the start",
                                 in_quotes(text),
                                 rows_.header()[layout_.time]),
                     "write the number alone, the header gives its unit"};
      }
      return *value * column.unit_s;
    }
    if (of_clock_) return read_clock_time(text, fields);
    if (times_.written_s.empty() && parse_clock_time(text)) {
      of_clock_ = true;
      times_.form = LogTimeForm::clock;
      return read_clock_time(text, fields);
    }
    const std::optional<DatedTime> dated = parse_dated_time(text);
    if (!dated) {
      throw BadRow{fmt::format("{} in time is not a date and time", in_quotes(text)),
                   "write year-month-day and time, such as 2026-11-28T09:40 or 2026-11-28 "
                   "09:40:30+01:00, or times of day alone in all rows"};
    }
    if (times_.written_s.empty()) {
      zone_min_ = dated->zone_min;
      last_zone_min_ = dated->zone_min;
      if (zone_min_) times_.form = LogTimeForm::zoned;
    }
    if (dated->zone_min.has_value() != zone_min_.has_value()) {
      throw BadRow{zone_min_ ? "this time has no zone, the first row's has one"
                             : "this time has a zone, the first row's has none",
                   "write all times alike"};
    }
    if (!zone_min_) return dated->local_s;
    if (dated->zone_min != last_zone_min_) {
      last_zone_min_ = dated->zone_min;
      remarks_.add(LogFault::zone_change,
                   rows_.line(),
                   fmt::format("line {}: the times change to another zone; all are told in that of "
                               "the first row",
                               rows_.line()));
    }
    return dated->local_s + 60.0 * (*zone_min_ - *dated->zone_min);
  }

  double read_sensor(std::size_t s, const std::vector<std::string_view>& fields) {
    const std::size_t i = layout_.sensors[s];
    const std::string_view text = i < fields.size() ? fields[i] : std::string_view{};
    if (const std::optional<double> value = parse_log_number(text, decimal_comma_)) {
      end_missing(s);
      return from_degrees(*value, sensors_[s].degrees).in_K();
    }
    if (!says_no_reading(text)) {
      throw BadRow{
          fmt::format("{} in {} is not a number", in_quotes(text), sensors_[s].name),
          "write the number alone, the header gives its unit; leave it empty or write OPEN "
          "where there is no reading"};
    }
    Missing& missing = missing_[s];
    if (missing.count++ == 0) {
      missing.first_line = rows_.line();
      missing.said = text.empty() ? "empty" : in_quotes(text);
    }
    missing.last_line = rows_.line();
    return no_reading;
  }

  void end_missing(std::size_t s) {
    Missing& missing = missing_[s];
    if (missing.count == 0) return;
    remarks_.add(LogFault::missing,
                 missing.first_line,
                 missing.count == 1
                     ? fmt::format("line {}: {} has no reading ({}): left out",
                                   missing.first_line,
                                   sensors_[s].name,
                                   missing.said)
                     : fmt::format("lines {} to {}: {} has no reading ({}): {} left out",
                                   missing.first_line,
                                   missing.last_line,
                                   sensors_[s].name,
                                   missing.said,
                                   missing.count));
    missing.count = 0;
  }

  LogRows& rows_;
  const LogLayout& layout_;
  const std::string& source_name_;
  LogRemarks& remarks_;
  const Progress& progress_;
  bool decimal_comma_;
  bool of_clock_ = false;  ///< times of day, with a date beside them or without
  RowFaults faults_;
  Problems problems_;
  RawTimes times_{};
  std::vector<SensorReadings> sensors_;
  std::vector<Missing> missing_;
  std::vector<double> readings_;
  std::optional<int> zone_min_, last_zone_min_;
};

}  // namespace

WrittenLog read_rows(LogRows& rows,
                     const LogLayout& layout,
                     const std::string& source_name,
                     LogRemarks& remarks,
                     const Progress& progress) {
  Reader reader{rows, layout, source_name, remarks, progress};
  reader.run();
  return std::move(reader).take();
}

}  // namespace thickset

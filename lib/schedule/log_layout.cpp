#include "schedule/log_layout.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"

namespace thickset {
namespace {

std::string name_or_number(std::string_view name, std::size_t i) {
  return name.empty() ? fmt::format("column {}", i + 1) : in_quotes(name);
}

/// A name that may be a sensor's whose unit was left out.
bool lacks_a_unit(std::string_view name) {
  constexpr std::size_t longest = 20;
  return log_column_of(name).role == LogColumn::Role::unread && !name.empty() &&
         name.size() <= longest && !name.ends_with("_C") && !name.ends_with("_F");
}

std::string with_unit(std::string_view name) {
  return fmt::format(
      "put the unit at the end of its name in the header: {0}_C or {0}_F, whichever it is",
      name.empty() ? "air" : name);
}

}  // namespace

LogColumn log_column_of(std::string_view name) {
  if (name == "time") return {.role = LogColumn::Role::time};
  if (name == "clock") return {.role = LogColumn::Role::clock};
  if (name == "date") return {.role = LogColumn::Role::date};
  if (name == "seconds") return {.role = LogColumn::Role::elapsed, .unit_s = 1.0};
  if (name == "minutes") return {.role = LogColumn::Role::elapsed, .unit_s = 60.0};
  if (name == "hours") return {.role = LogColumn::Role::elapsed, .unit_s = 3600.0};
  if (name == "note" || name == "notes") return {.role = LogColumn::Role::told};
  const bool in_C = name.ends_with("_C");
  const bool in_F = name.ends_with("_F");
  if (!in_C && !in_F) return {};
  const std::string_view of = name.substr(0, name.size() - 2);
  // What was asked for is no reading.
  if (of.empty() || of == "target" || of == "setpoint" || of == "set") return {};
  return {.role = LogColumn::Role::sensor,
          .degrees = in_C ? Degrees::celsius : Degrees::fahrenheit};
}

LogLayout layout_of(const LogRows& rows, LogRemarks& remarks) {
  LogLayout layout;
  std::vector<std::size_t> times;
  std::string unread;
  std::string_view nameless;  // the first that may be a sensor without its unit
  const std::vector<std::string_view>& header = rows.header();
  for (std::size_t i = 0; i < header.size(); ++i) {
    layout.columns.push_back(log_column_of(header[i]));
    const LogColumn& column = layout.columns.back();
    const LogColumn::Role role = column.role;
    for (std::size_t k = 0; k < i; ++k) {
      if (header[k] != header[i] || header[i].empty()) continue;
      throw Error{rows.place(),
                  fmt::format("two columns are named {}", in_quotes(header[i])),
                  "give each column its own name"};
    }
    if (column.tells_time()) times.push_back(i);
    if (role == LogColumn::Role::date) layout.date = i;
    if (role == LogColumn::Role::sensor) layout.sensors.push_back(i);
    if (role == LogColumn::Role::unread) {
      if (nameless.empty() && lacks_a_unit(header[i])) nameless = header[i];
      unread += (unread.empty() ? "" : ", ") + name_or_number(header[i], i);
    }
  }
  if (times.size() != 1) {
    throw Error{rows.place(),
                times.empty() ? "no column tells the time" : "two columns tell the time",
                "name one of them time (2026-11-28T09:40), clock (09:40), minutes, hours or "
                "seconds, and any other something else"};
  }
  layout.time = times.front();
  if (layout.date && layout.columns[layout.time].role == LogColumn::Role::elapsed) {
    throw Error{rows.place(),
                "a date column stands beside times that are not clock times",
                "name them clock, or leave the date out"};
  }
  if (layout.sensors.empty()) {
    const std::string told = unread.empty() ? "" : fmt::format(" (not read: {})", unread);
    throw Error{rows.place(), "no column holds temperatures" + told, with_unit(nameless)};
  }
  layout.last_needed = std::max(layout.time, layout.date.value_or(0));
  if (!unread.empty()) {
    remarks.add(LogFault::column_unread,
                rows.line(),
                fmt::format("not read, for the name does not say what it is in: {}", unread));
  }
  return layout;
}

std::size_t LogLayout::sensor_to_use(const LogRows& rows, const std::string& asked) const {
  std::vector<std::string_view> names;
  for (const std::size_t i : sensors) names.push_back(rows.header()[i]);
  if (!asked.empty()) {
    const auto found = std::find(names.begin(), names.end(), asked);
    if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
    const std::vector<std::string_view>& all = rows.header();
    if (lacks_a_unit(asked) && std::find(all.begin(), all.end(), asked) != all.end()) {
      throw Error{Place{rows.place().source},
                  fmt::format("the name of column {} does not say its unit", in_quotes(asked)),
                  with_unit(asked)};
    }
    throw Error{Place{rows.place().source},
                fmt::format("no temperature column is named {}", in_quotes(asked)),
                fmt::format("it has {}", fmt::join(names, ", "))};
  }
  for (const char* usual : {"air_C", "air_F", "kiln_C", "kiln_F"}) {
    const auto found = std::find(names.begin(), names.end(), usual);
    if (found != names.end()) return static_cast<std::size_t>(found - names.begin());
  }
  return 0;
}

}  // namespace thickset

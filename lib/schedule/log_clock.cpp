#include "schedule/log_clock.h"

#include <chrono>
#include <cmath>

#include <fmt/format.h>

namespace thickset {
namespace {

struct Moment {
  std::string date, day, time;
};

Moment parts_of(const LogClock& clock, double time_s) {
  const std::chrono::local_seconds when = clock.first + std::chrono::seconds{std::llround(time_s)};
  const auto rounded = std::chrono::round<std::chrono::minutes>(when);
  const auto day = std::chrono::floor<std::chrono::days>(rounded);
  const std::chrono::hh_mm_ss of_day{rounded - day};
  const std::string time =
      fmt::format("{:02}:{:02}", of_day.hours().count(), of_day.minutes().count());
  if (!clock.dated) {
    const std::string which = fmt::format("day {}", day.time_since_epoch().count() + 1);
    return {which, which, time};
  }
  constexpr const char* weekdays[] = {"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"};
  const std::chrono::year_month_day date{day};
  const char* of_week = weekdays[std::chrono::weekday{day}.c_encoding()];
  return {fmt::format("{} {:04}-{:02}-{:02}",
                      of_week,
                      static_cast<int>(date.year()),
                      static_cast<unsigned>(date.month()),
                      static_cast<unsigned>(date.day())),
          of_week,
          time};
}

std::string since_start(double time_s) {
  const long long total_min = std::llround(time_s / 60.0);
  if (total_min < 60) return fmt::format("{} min", total_min);
  return fmt::format("{} h {:02} min", total_min / 60, total_min % 60);
}

}  // namespace

std::string moment(const std::optional<LogClock>& clock, double time_s) {
  if (!clock) return since_start(time_s);
  const Moment parts = parts_of(*clock, time_s);
  return parts.date + ' ' + parts.time;
}

std::string short_moment(const std::optional<LogClock>& clock, double time_s) {
  if (!clock) return since_start(time_s);
  const Moment parts = parts_of(*clock, time_s);
  return parts.day + ' ' + parts.time;
}

std::string span_of_time(const std::optional<LogClock>& clock, double from_s, double to_s) {
  if (!clock) return fmt::format("{} to {}", since_start(from_s), since_start(to_s));
  const Moment from = parts_of(*clock, from_s);
  const Moment to = parts_of(*clock, to_s);
  if (from.date == to.date) return fmt::format("{} {} to {}", from.day, from.time, to.time);
  return fmt::format("{} {} to {} {}", from.day, from.time, to.day, to.time);
}

}  // namespace thickset

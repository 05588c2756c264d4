#include "schedule/log_times.h"

#include <algorithm>
#include <chrono>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "schedule/log_numbers.h"

namespace thickset {
namespace {

constexpr double longest_s = 1000.0 * day_s;
constexpr double by_hand_s = 600.0;  // a log of this usual interval or more is kept by hand

/// Takes so many digits from the front; -1 where they are not there.
int take_digits(std::string_view& text, std::size_t count) {
  if (text.size() < count) return -1;
  int value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (text[i] < '0' || text[i] > '9') return -1;
    value = 10 * value + (text[i] - '0');
  }
  text.remove_prefix(count);
  return value;
}

bool take(std::string_view& text, char sign) {
  if (text.empty() || text.front() != sign) return false;
  text.remove_prefix(1);
  return true;
}

/// "40:05.25" behind the hour: minutes, and seconds where they are there.
std::optional<double> take_minutes_s(std::string_view& text) {
  const int minute = take_digits(text, 2);
  if (minute < 0 || minute > 59) return std::nullopt;
  double value_s = 60.0 * minute;
  if (!take(text, ':')) return value_s;
  const int second = take_digits(text, 2);
  if (second < 0 || second > 59) return std::nullopt;
  value_s += second;
  if (take(text, '.') || take(text, ',')) {
    double place = 0.1;
    if (text.empty() || text.front() < '0' || text.front() > '9') return std::nullopt;
    while (!text.empty() && text.front() >= '0' && text.front() <= '9') {
      value_s += place * (text.front() - '0');
      place *= 0.1;
      text.remove_prefix(1);
    }
  }
  return value_s;
}

std::optional<int> take_date(std::string_view& text) {
  using namespace std::chrono;
  const int y = take_digits(text, 4);
  if (y < 1900 || y > 2199 || !take(text, '-')) return std::nullopt;
  const int m = take_digits(text, 2);
  if (m < 0 || !take(text, '-')) return std::nullopt;
  const int d = take_digits(text, 2);
  if (d < 0) return std::nullopt;
  const year_month_day date{
      year{y}, month{static_cast<unsigned>(m)}, day{static_cast<unsigned>(d)}};
  if (!date.ok()) return std::nullopt;
  return static_cast<int>(local_days{date}.time_since_epoch().count());
}

/// "Z", "+01", "+0100" or "+01:00", the whole rest.
std::optional<int> parse_zone_min(std::string_view text) {
  if (text == "Z" || text == "z") return 0;
  const bool behind = !text.empty() && text.front() == '-';
  if (!take(text, '+') && !take(text, '-')) return std::nullopt;
  const int zone_hours = take_digits(text, 2);
  if (zone_hours < 0 || zone_hours > 14) return std::nullopt;
  int zone_minutes = 0;
  if (!text.empty()) {
    take(text, ':');
    zone_minutes = take_digits(text, 2);
    if (zone_minutes < 0 || zone_minutes > 59 || !text.empty()) return std::nullopt;
  }
  const int ahead = 60 * zone_hours + zone_minutes;
  return behind ? -ahead : ahead;
}

/// Whether the readings on both sides of row i say that the time before it was short_s, not long_s.
/// False where they stand still or do not agree.
bool goes_on_as_if(std::span<const double> time_s,
                   std::span<const double> T_K,
                   std::size_t i,
                   double short_s,
                   double long_s) {
  constexpr std::size_t readings = 6;  // on each side, for the slope there
  constexpr double telling_K = 5.0;    // what the hour must make for it to be told
  if (i < 2 || i + 1 >= T_K.size()) return false;
  const std::size_t first = i - 1 >= readings ? i - 1 - readings : 0;
  const std::size_t last = std::min(i + readings, T_K.size() - 1);
  const double before_s = time_s[i - 1] - time_s[first];
  const double after_s = time_s[last] - time_s[i];
  if (!(before_s > 0.0 && after_s > 0.0)) return false;
  const double before = (T_K[i - 1] - T_K[first]) / before_s;
  const double after = (T_K[last] - T_K[i]) / after_s;
  const double slope = 0.5 * (before + after);
  if (!(std::abs(slope) * (long_s - short_s) >= telling_K)) return false;  // NaN too
  if (!(std::abs(before - after) <= 0.5 * std::abs(slope))) return false;
  const double change_K = T_K[i] - T_K[i - 1];
  return std::abs(change_K - slope * short_s) < 0.25 * std::abs(slope) * (long_s - short_s);
}

/// Whether clock times without dates were written down by a person: the middle of their steps, the
/// shorter way round the clock, is ten minutes or more.
bool kept_by_hand(const RawTimes& times) {
  if (times.form != LogTimeForm::clock) return false;
  std::vector<double> steps_s;
  for (std::size_t i = 1; i < times.written_s.size(); ++i) {
    const double step_s = std::abs(times.written_s[i] - times.written_s[i - 1]);
    if (step_s > 0.0) steps_s.push_back(std::min(step_s, day_s - step_s));
  }
  if (steps_s.empty()) return false;
  const auto middle = steps_s.begin() + static_cast<std::ptrdiff_t>(steps_s.size() / 2);
  std::nth_element(steps_s.begin(), middle, steps_s.end());
  return *middle >= by_hand_s;
}

/// One step between rows after another, the clock's changes taken out.
class Clock {
 public:
  Clock(const RawTimes& times, std::span<const double> T_K, LogRemarks& remarks)
      : times_{times},
        T_K_{T_K},
        remarks_{remarks},
        interval_s_{typical_step(times.written_s)},
        by_hand_{kept_by_hand(times)} {}

  std::vector<double> run(const std::string& source_name) {
    const std::size_t rows = times_.written_s.size();
    std::vector<double> time_s(rows, no_reading);
    const bool on_a_wall =
        times_.form == LogTimeForm::dated || (times_.form == LogTimeForm::clock && !by_hand_);
    const double first_s = times_.written_s.front();
    double last_s = 0.0;
    time_s[0] = 0.0;
    for (std::size_t i = 1; i < rows; ++i) {
      double step_s = times_.written_s[i] + offset_s_ - first_s - last_s;
      if (times_.form == LogTimeForm::clock && step_s < (by_hand_ ? 0.0 : -0.5 * day_s)) {
        offset_s_ += day_s;
        step_s += day_s;
        if (step_s > 0.5 * day_s) say_next_day(i, step_s);
      }
      if (on_a_wall && step_s < 0.0) step_s = unless_put_back(i, step_s);
      if (step_s < 0.0) {
        leave_out(i, source_name);
        continue;
      }
      if (on_a_wall && step_s > hour_s) step_s = unless_put_forward(i, step_s);
      last_s += step_s;
      if (!(last_s <= longest_s)) {
        throw Error{Place{source_name, times_.line[i]},
                    "the log is longer than 1000 days",
                    "check the date and time of this row, or cut the log into firings"};
      }
      time_s[i] = last_s;
    }
    say_what_was_left_out();
    return time_s;
  }

 private:
  double slack_s() const { return std::min(0.5 * interval_s_ + 60.0, 0.25 * hour_s); }

  double unless_put_back(std::size_t i, double step_s) {
    const double true_s = step_s + hour_s;
    if (changes_ == most_changes || true_s < 0.0 || true_s > 1.5 * interval_s_ + slack_s()) {
      return step_s;
    }
    ++changes_;
    offset_s_ += hour_s;
    remarks_.add(LogFault::clock_change,
                 times_.line[i],
                 fmt::format("line {}: the clock goes back by an hour, as for the end of summer "
                             "time: an hour is added to the times from there on",
                             times_.line[i]));
    return true_s;
  }

  double unless_put_forward(std::size_t i, double step_s) {
    const double true_s = step_s - hour_s;
    const bool one_interval = std::abs(true_s - interval_s_) <= slack_s();
    if (changes_ == most_changes || !one_interval ||
        !goes_on_as_if(times_.written_s, T_K_, i, true_s, step_s)) {
      return step_s;
    }
    ++changes_;
    offset_s_ -= hour_s;
    remarks_.add(LogFault::clock_change,
                 times_.line[i],
                 fmt::format("line {}: the clock goes forward by an hour while the readings go on "
                             "as if it had not, as for the start of summer time: an hour is taken "
                             "off the times from there on",
                             times_.line[i]));
    return true_s;
  }

  /// A whole half day without a reading: the dates would tell whether it is true.
  void say_next_day(std::size_t i, double step_s) {
    remarks_.add(LogFault::next_day,
                 times_.line[i],
                 fmt::format("line {}: an earlier time of day than the row before: taken for the "
                             "next day, {:.3g} h later (a column date would tell)",
                             times_.line[i],
                             step_s / hour_s));
  }

  void leave_out(std::size_t i, const std::string& source_name) {
    const std::size_t most = std::max<std::size_t>(3, times_.written_s.size() / 100);
    if (left_out_ == 0) first_left_out_ = i;
    if (++left_out_ <= most) return;
    throw Error{Place{source_name, times_.line[first_left_out_]},
                "the times run backwards from here on",
                "look at this row and the one before; put the rows in order, or cut the log where "
                "its clock was set anew"};
  }

  void say_what_was_left_out() {
    if (left_out_ == 0) return;
    const int line = times_.line[first_left_out_];
    remarks_.add(LogFault::reversed_time,
                 line,
                 left_out_ == 1
                     ? fmt::format("line {} is earlier than the row before it: left out", line)
                     : fmt::format("line {} and {} more rows are earlier than the row before them: "
                                   "left out",
                                   line,
                                   left_out_ - 1));
  }

  static constexpr int most_changes = 2;
  const RawTimes& times_;
  std::span<const double> T_K_;
  LogRemarks& remarks_;
  double interval_s_;
  bool by_hand_;
  double offset_s_ = 0.0;
  int changes_ = 0;
  std::size_t left_out_ = 0, first_left_out_ = 0;
};

}  // namespace

std::optional<int> parse_date(std::string_view text) {
  const std::optional<int> days = take_date(text);
  return text.empty() ? days : std::nullopt;
}

std::optional<DatedTime> parse_dated_time(std::string_view text) {
  const std::optional<int> days = take_date(text);
  if (!days || !(take(text, 'T') || take(text, 't') || take(text, ' '))) return std::nullopt;
  const int hour = take_digits(text, 2);
  if (hour < 0 || hour > 23 || !take(text, ':')) return std::nullopt;
  const std::optional<double> rest_s = take_minutes_s(text);
  if (!rest_s) return std::nullopt;
  DatedTime time{.local_s = *days * day_s + hour * hour_s + *rest_s, .zone_min = std::nullopt};
  take(text, ' ');
  if (text.empty()) return time;
  time.zone_min = parse_zone_min(text);
  if (!time.zone_min) return std::nullopt;
  return time;
}

std::optional<double> parse_clock_time(std::string_view text) {
  const std::size_t digits = text.size() > 1 && text[1] == ':' ? 1 : 2;
  int hour = take_digits(text, digits);
  if (hour < 0 || hour > 23 || !take(text, ':')) return std::nullopt;
  const std::optional<double> rest_s = take_minutes_s(text);
  if (!rest_s) return std::nullopt;
  take(text, ' ');
  const bool before_noon = text == "am" || text == "AM";
  const bool after_noon = text == "pm" || text == "PM";
  if (before_noon || after_noon) {
    if (hour < 1 || hour > 12) return std::nullopt;
    hour = hour % 12 + (after_noon ? 12 : 0);
  } else if (!text.empty()) {
    return std::nullopt;
  }
  return hour * hour_s + *rest_s;
}

std::vector<double> continuous_times(const RawTimes& times,
                                     std::span<const double> T_K,
                                     const std::string& source_name,
                                     LogRemarks& remarks) {
  if (times.written_s.empty()) return {};
  return Clock{times, T_K, remarks}.run(source_name);
}

double typical_step(std::span<const double> rising) {
  std::vector<double> steps;
  steps.reserve(rising.size());
  for (std::size_t i = 1; i < rising.size(); ++i) {
    if (rising[i] > rising[i - 1]) steps.push_back(rising[i] - rising[i - 1]);
  }
  if (steps.empty()) return 0.0;
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return *middle;
}

}  // namespace thickset

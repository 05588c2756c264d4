#include "checking/another_reading.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <variant>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr double whole_tol = 1e-9;  // of a number's nearest whole one

bool is_whole(double value) {
  return std::abs(value - std::round(value)) < whole_tol;
}

std::string minutes_to_key(Duration time) {
  return fmt::format("{:.0f} min", std::round(in_min(time)));
}

AnotherReading of_time(AnotherReading::As as, std::string meant, Duration time) {
  return {.as = as, .meant = std::move(meant), .time = time, .key = minutes_to_key(time)};
}

/// 5.3 or 5.30 for 5 h 30 min: a number with a part that could be minutes.
std::optional<AnotherReading> hours_point_minutes(double number) {
  const double whole = std::floor(number);
  const double part = 100.0 * (number - whole);
  constexpr double digits_tol = 1e-6;
  if (std::abs(part - std::round(part)) > digits_tol || part < 0.5 || part > 59.5)
    return std::nullopt;
  const Duration time = minutes(60.0 * whole + std::round(part));
  return of_time(AnotherReading::As::hours_and_minutes, in_words(time), time);
}

/// A time keyed as a rate: the number in degrees an hour.
AnotherReading as_rate(double number, double distance_deg, Degrees degrees) {
  return of_time(AnotherReading::As::rate,
                 fmt::format("{:.4g} °{}/h", number, letter(degrees)),
                 hours(distance_deg / number));
}

/// A time keyed as a rate's number: minutes, and the rate they make.
AnotherReading as_minutes(Rate keyed, double distance_K, Degrees degrees) {
  const double number = in_degrees_per_h(keyed, degrees);
  const Duration time = minutes(number);
  return {.as = AnotherReading::As::minutes,
          .meant = fmt::format("{:.4g} min", number),
          .time = time,
          .key = rate_to_key(Rate::from_K_per_s(distance_K / in_s(time)), degrees)};
}

}  // namespace

std::string in_words(Duration time) {
  const double total_min = in_min(time);
  if (total_min < 60.0 || !is_whole(total_min)) {
    if (total_min < 600.0) return fmt::format("{:.4g} min", total_min);
  }
  const auto rounded = static_cast<long long>(std::llround(total_min));
  if (rounded % 60 == 0) return fmt::format("{} h", rounded / 60);
  return fmt::format("{} h {} min", rounded / 60, rounded % 60);
}

std::string even_after(Duration needed) {
  return fmt::format("the glass is even only about {} after the kiln is there",
                     in_words(minutes(std::max(1.0, std::ceil(in_min(needed))))));
}

std::string rate_to_key(Rate rate, Degrees degrees) {
  const double value = in_degrees_per_h(rate, degrees);
  constexpr double round_off = 1e-6;  // of a step: 7.6 is not 7.5
  const double step = value >= 10.0 ? 1.0 : value >= 1.0 ? 0.1 : 0.01;
  const double down = std::floor(value / step + round_off) * step;
  return fmt::format("{:.{}f} °{}/h",
                     down,
                     value >= 10.0  ? 0
                     : value >= 1.0 ? 1
                                    : 2,
                     letter(degrees));
}

std::vector<AnotherReading> readings_of_short_time(Duration keyed) {
  const double number = in_min(keyed);
  const AnotherReading as_hours =
      of_time(AnotherReading::As::hours, fmt::format("{:.4g} h", number), 60.0 * keyed);
  const auto point = hours_point_minutes(number);
  if (!point) return {as_hours};
  // Two decimals are how h.mm is written; one may be either.
  if (!is_whole(10.0 * number)) return {*point, as_hours};
  return {as_hours, *point};
}

AnotherReading reading_of_long_time(Duration keyed) {
  const Duration meant = keyed / 60.0;
  return of_time(AnotherReading::As::minutes, in_words(meant), meant);
}

std::optional<AnotherReading> reading_as_clock(Duration keyed) {
  const double number = in_min(keyed);
  constexpr double longest = 9959.0;
  if (!is_whole(number) || number < 100.0 || number > longest) return std::nullopt;
  const auto digits = static_cast<int>(std::lround(number));
  const int past_hour = digits % 100;
  constexpr int round_min = 30;
  if (past_hour % round_min != 0 || past_hour >= 60) return std::nullopt;
  AnotherReading reading = of_time(AnotherReading::As::hours_and_minutes,
                                   fmt::format("{}:{:02}", digits / 100, past_hour),
                                   minutes(60.0 * (digits / 100) + past_hour));
  return reading;
}

std::vector<AnotherReading> readings_of_fast_ramp(const Step& step,
                                                  double distance_K,
                                                  Degrees degrees) {
  if (const auto* const time = std::get_if<Duration>(&step.pace)) {
    std::vector<AnotherReading> readings = readings_of_short_time(*time);
    const double distance_deg = in_degrees(TemperatureDifference::from_K(distance_K), degrees);
    readings.push_back(as_rate(in_min(*time), distance_deg, degrees));
    return readings;
  }
  if (const auto* const rate = std::get_if<Rate>(&step.pace)) {
    return {as_minutes(*rate, distance_K, degrees)};
  }
  return {};
}

std::vector<AnotherReading> readings_of_slow_ramp(const Step& step,
                                                  double distance_K,
                                                  Degrees degrees) {
  if (const auto* const time = std::get_if<Duration>(&step.pace)) {
    return {reading_of_long_time(*time)};
  }
  if (const auto* const rate = std::get_if<Rate>(&step.pace)) {
    return {as_minutes(*rate, distance_K, degrees)};
  }
  return {};
}

}  // namespace thickset

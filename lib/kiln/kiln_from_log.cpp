#include "kiln/kiln_from_log.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "schedule/reduce_log.h"
#include "units/spoken.h"

namespace thickset {
namespace {

// Noise and a display's last digit are no rise.
constexpr double rise_K = 3.0;
constexpr double straight_within_K = 0.3;
constexpr double straight_over_K = 60.0;
constexpr double would_bend_K =
    1.0;  // a fall of the kiln's own would leave a straight line by this

constexpr std::ptrdiff_t fewest_between = 2;  // readings along a line that is called straight

std::vector<Reading> readings_of(const FiringLog& log) {
  std::vector<Reading> readings;
  readings.reserve(log.time_s.size());
  for (std::size_t i = 0; i < log.time_s.size(); ++i) {
    readings.push_back({log.time_s[i], log.T_K[i]});
  }
  return readings;
}

/// A straight fall so long that Newton's cooling would have left it: its bend is the square of the
/// fall over eight times the distance from the room.
std::vector<std::string> straight_falls(std::span<const Reading> readings,
                                        Temperature room,
                                        Degrees shown) {
  std::vector<double> time_s, T_K;
  for (const Reading& reading : means_over_time(readings, 2000)) {
    time_s.push_back(reading.time_s);
    T_K.push_back(reading.T_K);
  }
  const Polyline line = polyline_within(time_s, T_K, straight_within_K);
  std::vector<std::string> found;
  for (std::size_t i = 1; i < line.corners.size(); ++i) {
    const double from_K = line.corners[i - 1].T_K;
    const double fall_K = from_K - line.corners[i].T_K;
    const double above_room_K = from_K - 0.5 * fall_K - room.in_K();
    // Between two neighbouring readings any fall is straight.
    const auto inside = std::count_if(time_s.begin(), time_s.end(), [&](double at_s) {
      return at_s > line.corners[i - 1].time_s && at_s < line.corners[i].time_s;
    });
    if (inside < fewest_between) continue;
    if (fall_K < straight_over_K || fall_K * fall_K < 8.0 * would_bend_K * above_room_K) continue;
    found.push_back(fmt::format(
        "it falls in a straight line from {} to {}: that looks like a program, not like the kiln's "
        "own fall; name the part with the elements off, --between 14h,30h",
        spoken(Temperature::from_K(from_K), shown),
        spoken(Temperature::from_K(from_K - fall_K), shown)));
  }
  return found;
}

/// A kiln left to itself falls more slowly the cooler it is.
std::vector<std::string> quicker_when_cooler(const CoolingFit& fit, Degrees shown) {
  constexpr double more = 1.1;
  std::vector<std::string> found;
  const auto points = fit.cooling.points();  // rising temperature
  for (std::size_t i = 1; i < points.size(); ++i) {
    if (!(points[i - 1].rate.in_K_per_s() > more * points[i].rate.in_K_per_s())) continue;
    found.push_back(fmt::format(
        "it falls faster at {} than at {}: no kiln left to itself does; name the part with the "
        "elements off and the lid closed, --between 14h,30h",
        spoken(points[i - 1].temperature, shown),
        spoken(points[i].temperature, shown)));
  }
  return found;
}

/// The readings that two sensors of one log have at the same times.
std::optional<SecondSensor> compared(const FiringLog& log,
                                     const FiringLog& other,
                                     const LogPart& part) {
  std::vector<Reading> first, second;
  std::size_t j = 0;
  for (std::size_t i = 0; i < log.line.size(); ++i) {
    while (j < other.line.size() && other.line[j] < log.line[i]) ++j;
    if (j == other.line.size()) break;
    const bool inside = log.time_s[i] >= part.from_s && log.time_s[i] <= part.to_s;
    if (other.line[j] != log.line[i] || !inside) continue;
    first.push_back({log.time_s[i], log.T_K[i]});
    second.push_back({log.time_s[i], other.T_K[j]});
  }
  constexpr std::size_t fewest = 6;
  if (first.size() < fewest) return std::nullopt;
  return fit_second_sensor(first, second);
}

}  // namespace

KilnFromLog kiln_from_log(const FiringLog& log,
                          const std::optional<FiringLog>& second,
                          Temperature room,
                          const std::optional<LogPart>& asked,
                          Degrees shown,
                          const Place& place) {
  const std::vector<Reading> all = readings_of(log);
  std::span<const Reading> readings{all};
  if (asked) {
    const auto before = [](const Reading& reading, double time_s) {
      return reading.time_s < time_s;
    };
    const auto first = std::lower_bound(all.begin(), all.end(), asked->from_s, before);
    const auto beyond = std::lower_bound(first, all.end(), asked->to_s + 1e-6, before);
    readings = {first, beyond};
  } else {
    const Stretch fall = longest_fall(all, rise_K);
    readings = readings.subspan(fall.first, fall.beyond - fall.first);
  }
  CoolingFit fit = fit_cooling(readings, room, place);
  const LogPart part{readings.front().time_s, readings.back().time_s};
  KilnFromLog result{.fit = std::move(fit),
                     .part = part,
                     .readings = readings.size(),
                     .second = std::nullopt,
                     .doubts = straight_falls(readings, room, shown)};
  for (std::string& doubt : quicker_when_cooler(result.fit, shown)) {
    result.doubts.push_back(std::move(doubt));
  }
  if (result.fit.rms_K > poor_rms_K) {
    result.doubts.push_back(
        "the readings do not go along any one fall: was something heated, opened or changed?");
  }
  if (second) {
    result.second = compared(log, *second, part);
    if (!result.second) {
      result.doubts.push_back("the second sensor has too few readings at the same times");
    }
  }
  return result;
}

}  // namespace thickset

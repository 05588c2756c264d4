#include "schedule/frozen_readings.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "schedule/fault_text.h"
#include "schedule/log_numbers.h"

namespace thickset {
namespace {

/// How often a sensor repeats its last reading, and whether its readings scatter by several of
/// their smallest steps; its longest run of one reading left out of both.
struct Unrest {
  double repeats_share;
  bool scatters;
};
Unrest unrest_of(std::span<const double> T_K, const std::vector<std::size_t>& rows) {
  constexpr double several = 3.0;
  std::size_t repeats = 0;
  std::size_t longest = 0;
  std::size_t run = 0;
  double smallest_step_K = std::numeric_limits<double>::infinity();
  std::vector<double> turns_K;  // second differences
  turns_K.reserve(rows.size());
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const double step_K = T_K[rows[k]] - T_K[rows[k - 1]];
    const bool same = step_K == 0.0;
    repeats += same ? 1 : 0;
    run = same ? run + 1 : 0;
    longest = std::max(longest, run);
    if (std::abs(step_K) > 1e-6) smallest_step_K = std::min(smallest_step_K, std::abs(step_K));
    if (k + 1 < rows.size() && run < 2) {
      turns_K.push_back(std::abs(T_K[rows[k + 1]] - T_K[rows[k]] - step_K));
    }
  }
  if (turns_K.empty()) return {1.0, false};
  const auto middle = turns_K.begin() + static_cast<std::ptrdiff_t>(turns_K.size() / 2);
  std::nth_element(turns_K.begin(), middle, turns_K.end());
  const double pairs = static_cast<double>(rows.size() - 1 - longest);
  return {pairs > 0.0 ? static_cast<double>(repeats - longest) / pairs : 1.0,
          *middle > several * smallest_step_K};
}

}  // namespace

void leave_out_frozen(SensorReadings& sensor,
                      std::span<const double> time_s,
                      std::span<const int> line,
                      LogRemarks& remarks) {
  constexpr std::size_t least_readings = 5;
  constexpr double least_s = 300.0;
  constexpr double jump_K = 10.0;
  constexpr double jump_K_per_s = 300.0 / hour_s;
  constexpr double goes_on_share = 0.25;  // of the jump, that the next reading may move
  constexpr std::size_t long_run = 60;    // readings
  constexpr double unlikely_log = -14.0;  // natural, of less than one in a million
  constexpr double restless_share = 0.3;  // of readings equal to the one before: a quiet sensor's
  std::vector<double>& T_K = sensor.T_K;
  const std::vector<std::size_t> rows = present(T_K);
  if (rows.size() < least_readings + 2) return;
  const Unrest unrest = unrest_of(T_K, rows);
  for (std::size_t first = 0; first + 1 < rows.size();) {
    std::size_t last = first;
    while (last + 1 < rows.size() && T_K[rows[last + 1]] == T_K[rows[first]]) ++last;
    const std::size_t count = last - first + 1;
    const double length_s = time_s[rows[last]] - time_s[rows[first]];
    bool frozen =
        count >= long_run && unrest.scatters && unrest.repeats_share < restless_share &&
        static_cast<double>(count) * std::log(std::max(unrest.repeats_share, 0.05)) < unlikely_log;
    if (count >= least_readings && length_s >= least_s && last + 2 < rows.size()) {
      const double jump = T_K[rows[last + 1]] - T_K[rows[last]];
      const double next = T_K[rows[last + 2]] - T_K[rows[last + 1]];
      const double step_s = std::max(time_s[rows[last + 1]] - time_s[rows[last]], 1.0);
      frozen = frozen || (std::abs(jump) >= jump_K && std::abs(jump) >= jump_K_per_s * step_s &&
                          std::abs(next) <= goes_on_share * std::abs(jump));
    }
    if (frozen) {
      const double stuck_K = T_K[rows[first]];
      for (std::size_t k = first + 1; k <= last; ++k) T_K[rows[k]] = no_reading;
      remarks.add(LogFault::frozen,
                  line[rows[first]],
                  fmt::format("{}: {} stands still at {}, a frozen reading: {} left out",
                              lines_text(line[rows[first]], line[rows[last]]),
                              sensor.name,
                              shown(sensor, stuck_K),
                              readings_text(count - 1)));
    }
    first = last + 1;
  }
}

}  // namespace thickset

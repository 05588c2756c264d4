#include "schedule/log_faults.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "schedule/fault_text.h"
#include "schedule/log_numbers.h"
#include "schedule/log_times.h"
#include "units/spoken.h"

namespace thickset {
namespace {}  // namespace

void leave_out_codes(SensorReadings& sensor, std::span<const int> line, LogRemarks& remarks) {
  constexpr double far_K = 60.0;
  std::vector<double>& T_K = sensor.T_K;
  const auto is_code = [&](double value_K) {
    const double value = in_degrees(Temperature::from_K(value_K), sensor.degrees);
    return std::abs(value) < 1e-9 || std::abs(value + 1.0) < 1e-9;
  };
  const auto out_of_range = [](double value_K) {
    const double value_C = Temperature::from_K(value_K).in_C();
    return value_C < coldest_reading_C || value_C > hottest_reading_C;
  };
  double before_K = no_reading;  // the last that is a reading
  for (std::size_t i = 0; i < T_K.size();) {
    if (std::isnan(T_K[i]) || !(out_of_range(T_K[i]) || is_code(T_K[i]))) {
      if (!std::isnan(T_K[i])) before_K = T_K[i];
      ++i;
      continue;
    }
    // A run of one and the same number.
    const double code_K = T_K[i];
    std::size_t end = i;
    std::size_t last = i;
    std::size_t count = 0;
    for (; end < T_K.size() && (std::isnan(T_K[end]) || T_K[end] == code_K); ++end) {
      if (std::isnan(T_K[end])) continue;
      last = end;
      ++count;
    }
    const double after_K = end < T_K.size() ? T_K[end] : no_reading;
    const bool far = std::abs(before_K - code_K) > far_K || std::abs(after_K - code_K) > far_K;
    if (!out_of_range(code_K) && !far) {
      before_K = code_K;
      i = end;
      continue;
    }
    for (std::size_t k = i; k <= last; ++k) T_K[k] = no_reading;
    remarks.add(LogFault::missing,
                line[i],
                fmt::format("{}: {} reads {}, which stands for no reading: {} left out",
                            lines_text(line[i], line[last]),
                            sensor.name,
                            shown(sensor, code_K),
                            readings_text(count)));
    i = end;
  }
}

void turn_other_degrees(SensorReadings& sensor,
                        std::span<const double> time_s,
                        std::span<const int> line,
                        LogRemarks& remarks) {
  constexpr double least_jump_K = 60.0;
  constexpr double fast_K_per_h = 1500.0;  // a jump faster than this needs no way back
  constexpr double doubtful_K_per_h = 300.0;
  constexpr double smooth_share = 0.15;  // of the jump, that may be left when it is turned
  std::vector<double>& T_K = sensor.T_K;
  const std::vector<std::size_t> rows = present(T_K);
  if (rows.size() < 3) return;
  const bool in_C = sensor.degrees == Degrees::celsius;
  // A number taken for C that was F reads too hot, one taken for F that was C too cold.
  const auto turned = [&](double value_K) {
    return in_C ? Temperature::from_F(Temperature::from_K(value_K).in_C()).in_K()
                : Temperature::from_C(Temperature::from_K(value_K).in_F()).in_K();
  };
  const auto explains = [&](double wrong_K, double right_K) {
    const double jump_K = std::abs(wrong_K - right_K);
    return jump_K > least_jump_K && std::abs(turned(wrong_K) - right_K) < smooth_share * jump_K;
  };
  const auto turn = [&](std::size_t first, std::size_t last) {
    const double was_K = T_K[rows[first]];
    for (std::size_t k = first; k <= last; ++k) T_K[rows[k]] = turned(T_K[rows[k]]);
    const int from = line[rows[first]];
    const char* other = in_C ? "F" : "C";
    remarks.add(LogFault::other_degrees,
                from,
                fmt::format("{}: {} goes on as if in {}, the header says {} (it reads {}, between "
                            "readings near {}): {} turned into {}",
                            lines_text(from, line[rows[last]]),
                            sensor.name,
                            other,
                            letter(sensor.degrees),
                            shown(sensor, was_K),
                            shown(sensor, T_K[rows[first]]),
                            readings_text(last - first + 1),
                            letter(sensor.degrees)));
  };
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const double before_K = T_K[rows[k - 1]];
    const double now_K = T_K[rows[k]];
    const double step_h = std::max(time_s[rows[k]] - time_s[rows[k - 1]], 1.0) / hour_s;
    const bool fast = std::abs(now_K - before_K) > fast_K_per_h * step_h;
    if (explains(now_K, before_K)) {
      std::size_t last = k;
      while (last + 1 < rows.size()) {
        const double wrong_K = T_K[rows[last]];
        const double next_K = T_K[rows[last + 1]];
        if (std::abs(next_K - turned(wrong_K)) < std::abs(turned(next_K) - turned(wrong_K))) break;
        ++last;
      }
      const bool comes_back =
          last + 1 < rows.size() && explains(T_K[rows[last]], T_K[rows[last + 1]]);
      if (!fast && !comes_back) {
        if (std::abs(now_K - before_K) > doubtful_K_per_h * step_h) {
          remarks.add(LogFault::other_degrees,
                      line[rows[k]],
                      fmt::format("line {}: {} jumps from {} to {}, which would be the same in the "
                                  "other degrees: taken as it stands; check the unit from there on",
                                  line[rows[k]],
                                  sensor.name,
                                  shown(sensor, before_K),
                                  shown(sensor, now_K)));
        }
        continue;
      }
      turn(k, last);
      k = last;
    } else if (fast && k < rows.size() / 2 && explains(before_K, now_K)) {
      turn(0, k - 1);  // the log began in the other degrees
    }
  }
}

void leave_out_spikes(SensorReadings& sensor,
                      std::span<const double> time_s,
                      std::span<const int> line,
                      LogRemarks& remarks) {
  constexpr double least_K = 15.0;
  constexpr double fast_K_per_s = 600.0 / hour_s;
  constexpr double longest_s = 30.0;
  constexpr std::size_t few = 3;    // readings, however long they take
  constexpr std::size_t most = 60;  // readings, however short
  constexpr double comes_back = 0.5;
  constexpr double cut_off_K = 60.0;  // of a first or last reading, which has one neighbour only
  constexpr double cut_off_K_per_s = 3000.0 / hour_s;
  std::vector<double>& T_K = sensor.T_K;
  const std::vector<std::size_t> rows = present(T_K);
  if (rows.size() < 3) return;
  const auto leave_out = [&](std::size_t first, std::size_t last, double beside_K) {
    const double read_K = T_K[rows[first]];
    for (std::size_t k = first; k <= last; ++k) T_K[rows[k]] = no_reading;
    remarks.add(LogFault::spike,
                line[rows[first]],
                fmt::format("{}: {} reads {} beside {}, a spike: {} left out",
                            lines_text(line[rows[first]], line[rows[last]]),
                            sensor.name,
                            shown(sensor, read_K),
                            shown(sensor, beside_K),
                            readings_text(last - first + 1)));
  };
  const auto cut_off = [&](std::size_t end, std::size_t beside) {
    const double jump_K = std::abs(T_K[rows[end]] - T_K[rows[beside]]);
    const double step_s = std::max(std::abs(time_s[rows[end]] - time_s[rows[beside]]), 1.0);
    if (jump_K > cut_off_K && jump_K > cut_off_K_per_s * step_s) {
      leave_out(end, end, T_K[rows[beside]]);
    }
  };
  std::size_t before = 0;
  for (std::size_t k = 1; k < rows.size(); ++k) {
    const double base_K = T_K[rows[before]];
    const double leaves_K = T_K[rows[k]] - base_K;
    const double leaves_s = std::max(time_s[rows[k]] - time_s[rows[before]], 1.0);
    if (std::abs(leaves_K) > least_K && std::abs(leaves_K) > fast_K_per_s * leaves_s) {
      std::size_t last = k;
      bool found = false;
      for (std::size_t back = k + 1; back < rows.size() && back - k <= most; ++back) {
        if (back - k > few && time_s[rows[back]] - time_s[rows[k]] > longest_s) break;
        const double away_K = T_K[rows[back]] - base_K;
        const double returns_s = std::max(time_s[rows[back]] - time_s[rows[back - 1]], 1.0);
        const double returns_K = std::abs(T_K[rows[back]] - T_K[rows[back - 1]]);
        if (std::abs(away_K) <= std::max(comes_back * std::abs(leaves_K), least_K) &&
            std::abs(away_K) < comes_back * std::abs(leaves_K) &&
            returns_K > fast_K_per_s * returns_s) {
          last = back - 1;
          found = true;
          break;
        }
        if (away_K * leaves_K < 0.0) break;
      }
      if (found) {
        leave_out(k, last, base_K);
        k = last;
        continue;
      }
    }
    before = k;
  }
  const std::vector<std::size_t> left = present(T_K);
  if (left.size() < 3) return;
  if (left.front() == rows.front()) cut_off(0, 1);
  if (left.back() == rows.back() && left[left.size() - 2] == rows[rows.size() - 2]) {
    cut_off(rows.size() - 1, rows.size() - 2);
  }
}

void compare_sensors(const SensorReadings& used,
                     const SensorReadings& other,
                     std::span<const double> time_s,
                     LogRemarks& remarks) {
  constexpr double level_K = 2.0;  // over the last hour
  constexpr double settled_s = hour_s;
  constexpr std::size_t fewest = 5;
  constexpr double two_tolerances = 0.015;  // [ASTM-E230] 0.75 % of the reading in C, twice
  constexpr double at_least_K = 5.0;        // and no less than this
  std::vector<double> apart_K;
  std::vector<double> level_at_K;
  std::size_t back = 0;
  for (std::size_t i = 0; i < time_s.size(); ++i) {
    if (std::isnan(used.T_K[i]) || std::isnan(time_s[i])) continue;
    while (back < i && (std::isnan(used.T_K[back]) || !(time_s[back] >= time_s[i] - settled_s))) {
      ++back;
    }
    if (back == 0 || std::isnan(other.T_K[i])) continue;  // less than an hour is known, or nothing
    if (time_s[i] - time_s[back] < 0.5 * settled_s) continue;
    if (std::abs(used.T_K[i] - used.T_K[back]) > level_K) continue;
    apart_K.push_back(other.T_K[i] - used.T_K[i]);
    level_at_K.push_back(used.T_K[i]);
  }
  if (apart_K.size() < fewest) return;
  const auto middle_of = [](std::vector<double>& values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
  };
  const double offset_K = middle_of(apart_K);
  const double at_K = middle_of(level_at_K);
  const double allowed_K =
      std::max(at_least_K, two_tolerances * std::abs(Temperature::from_K(at_K).in_C()));
  if (std::abs(offset_K) <= allowed_K) return;
  remarks.add(
      LogFault::sensors_disagree,
      0,
      fmt::format("{} reads {} {} {} while the kiln is level near {} ({}), more than two sensors "
                  "may differ: {} is used, the other tells how wrong it may be",
                  other.name,
                  spoken(TemperatureDifference::from_K(std::abs(offset_K)), used.degrees),
                  offset_K > 0.0 ? "above" : "below",
                  used.name,
                  spoken(Temperature::from_K(at_K), used.degrees),
                  readings_text(apart_K.size()),
                  used.name));
}

double remark_gaps(std::span<const double> time_s,
                   std::span<const double> T_K,
                   std::span<const int> line,
                   Degrees shown,
                   LogRemarks& remarks) {
  constexpr double times_typical = 5.0;
  constexpr double least_s = 600.0;
  const double limit_s = std::max(times_typical * typical_step(time_s), least_s);
  double longest_s = 0.0;
  for (std::size_t i = 1; i < time_s.size(); ++i) {
    const double gap_s = time_s[i] - time_s[i - 1];
    if (!(gap_s > limit_s)) continue;
    longest_s = std::max(longest_s, gap_s);
    remarks.add(
        LogFault::gap,
        line[i - 1],
        fmt::format("lines {} to {}: no reading for {:.0f} min, from {:.0f} to {:.0f} °{}: a "
                    "straight line is taken between them",
                    line[i - 1],
                    line[i],
                    gap_s / 60.0,
                    in_degrees(Temperature::from_K(T_K[i - 1]), shown),
                    in_degrees(Temperature::from_K(T_K[i]), shown),
                    letter(shown)));
  }
  return longest_s;
}

}  // namespace thickset

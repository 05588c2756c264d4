#include "schedule/reduce_log.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace thickset {

double Polyline::at_K(double time_s) const {
  const auto after = std::upper_bound(
      corners.begin(), corners.end(), time_s, [](double t_s, const Corner& corner) {
        return t_s < corner.time_s;
      });
  if (after == corners.begin()) return corners.front().T_K;
  if (after == corners.end()) return corners.back().T_K;
  const Corner& before = *(after - 1);
  const double share = (time_s - before.time_s) / (after->time_s - before.time_s);
  return before.T_K + share * (after->T_K - before.T_K);
}

Polyline polyline_within(std::span<const double> time_s,
                         std::span<const double> T_K,
                         double tolerance_K) {
  assert(!time_s.empty() && time_s.size() == T_K.size());
  constexpr double infinite = std::numeric_limits<double>::infinity();
  Polyline line;
  line.corners.push_back({time_s.front(), T_K.front()});
  double least = -infinite;  // slopes of the fan
  double most = infinite;
  const auto end_at = [&](std::size_t i) {
    const Polyline::Corner from = line.corners.back();
    const double step_s = time_s[i] - from.time_s;
    const double slope = std::clamp((T_K[i] - from.T_K) / step_s, least, most);
    line.corners.push_back({time_s[i], from.T_K + slope * step_s});
  };
  for (std::size_t i = 1; i < time_s.size(); ++i) {
    const auto slope_to = [&](double value_K) {
      const Polyline::Corner& from = line.corners.back();
      return (value_K - from.T_K) / (time_s[i] - from.time_s);
    };
    double next_least = std::max(least, slope_to(T_K[i] - tolerance_K));
    double next_most = std::min(most, slope_to(T_K[i] + tolerance_K));
    if (!(next_least <= next_most)) {
      end_at(i - 1);
      next_least = slope_to(T_K[i] - tolerance_K);
      next_most = slope_to(T_K[i] + tolerance_K);
    }
    least = next_least;
    most = next_most;
  }
  if (time_s.size() > 1) end_at(time_s.size() - 1);
  return line;
}

std::vector<std::size_t> outline(const Polyline& line, double tolerance_K, std::size_t most) {
  assert(!line.corners.empty() && most >= 1);
  struct Stretch {
    std::size_t first, last, farthest;
    double off_K;
  };
  const auto stretch = [&](std::size_t first, std::size_t last) {
    Stretch of{first, last, first, 0.0};
    const Polyline::Corner& a = line.corners[first];
    const Polyline::Corner& b = line.corners[last];
    for (std::size_t i = first + 1; i < last; ++i) {
      const double share = (line.corners[i].time_s - a.time_s) / (b.time_s - a.time_s);
      const double off_K = std::abs(line.corners[i].T_K - a.T_K - share * (b.T_K - a.T_K));
      if (off_K > of.off_K) {
        of.off_K = off_K;
        of.farthest = i;
      }
    }
    return of;
  };
  std::vector<Stretch> stretches{stretch(0, line.corners.size() - 1)};
  while (stretches.size() < most) {
    const auto worst = std::max_element(
        stretches.begin(), stretches.end(), [](const Stretch& a, const Stretch& b) {
          return a.off_K < b.off_K;
        });
    if (worst->off_K <= tolerance_K) break;
    const Stretch parted = *worst;
    *worst = stretch(parted.first, parted.farthest);
    stretches.push_back(stretch(parted.farthest, parted.last));
  }
  std::vector<std::size_t> corners{0};
  for (const Stretch& each : stretches) corners.push_back(each.last);
  std::sort(corners.begin(), corners.end());
  corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
  return corners;
}

AveragedLog averaged(const FiringLog& log) {
  AveragedLog means{.time_s = {}, .T_K = {}, .tolerance_K = log_tolerance_K};
  means.tolerance_K = std::max(log_tolerance_K, 0.5 * log.resolution_K);
  const std::size_t count = log.time_s.size();
  if (count < 3 || log.interval_s >= log_window_s) {
    means.time_s = log.time_s;
    means.T_K = log.T_K;
    return means;
  }
  means.time_s.push_back(log.time_s.front());
  means.T_K.push_back(log.T_K.front());
  for (std::size_t i = 1; i + 1 < count;) {
    const double window_end_s = log.time_s[i] + log_window_s;
    double time_sum_s = 0.0;
    double above_sum_K = 0.0;
    const double base_K = log.T_K[i];
    const double base_s = log.time_s[i];
    double readings = 0.0;
    for (; i + 1 < count && log.time_s[i] < window_end_s; ++i) {
      time_sum_s += log.time_s[i] - base_s;
      above_sum_K += log.T_K[i] - base_K;
      readings += 1.0;
    }
    means.time_s.push_back(base_s + time_sum_s / readings);
    means.T_K.push_back(base_K + above_sum_K / readings);
  }
  means.time_s.push_back(log.time_s.back());
  means.T_K.push_back(log.T_K.back());
  return means;
}

Polyline reduced(const FiringLog& log) {
  const AveragedLog means = averaged(log);
  return polyline_within(means.time_s, means.T_K, means.tolerance_K);
}

}  // namespace thickset

#include "checking/log_course.h"

#include <algorithm>
#include <cmath>
#include <deque>
#include <utility>

#include "checking/in_pieces.h"

namespace thickset {
namespace {

constexpr double stretch_within_K = 5.0;
constexpr std::size_t most_stretches = 24;
// A hold in a log: the longest time within this band around the middle, drifting by less.
constexpr double hold_band_K = 4.0;
constexpr double hold_drift_K = 1.0;
constexpr double shortest_hold_s = 1200.0;
constexpr double hold_near_K = 60.0;  // above the annealing point, below the strain point

struct Level {
  double start_s, end_s, mean_K;
};

/// Mean of a line between two of its corners.
double mean_K(const Polyline& line, std::size_t first, std::size_t last) {
  double sum = 0.0;
  for (std::size_t i = first + 1; i <= last; ++i) {
    sum += 0.5 * (line.corners[i].T_K + line.corners[i - 1].T_K) *
           (line.corners[i].time_s - line.corners[i - 1].time_s);
  }
  return sum / (line.corners[last].time_s - line.corners[first].time_s);
}

/// The longest level time between two temperatures.
std::optional<Level> longest_level(const Polyline& line, double lowest_K, double highest_K) {
  std::optional<Level> longest;
  const auto& corners = line.corners;
  // Of the corners from `first` on: those that are the lowest or highest until a later one is.
  std::deque<std::size_t> falling, rising;
  std::size_t first = 0;
  for (std::size_t last = 0; last < corners.size(); ++last) {
    const double T_K = corners[last].T_K;
    while (!falling.empty() && corners[falling.back()].T_K <= T_K) falling.pop_back();
    while (!rising.empty() && corners[rising.back()].T_K >= T_K) rising.pop_back();
    falling.push_back(last);
    rising.push_back(last);
    while (corners[falling.front()].T_K - corners[rising.front()].T_K > hold_band_K) {
      ++first;
      if (falling.front() < first) falling.pop_front();
      if (rising.front() < first) rising.pop_front();
    }
    const double length_s = corners[last].time_s - corners[first].time_s;
    if (length_s < shortest_hold_s) continue;
    if (longest && length_s <= longest->end_s - longest->start_s) continue;
    const double level_K = mean_K(line, first, last);
    if (level_K < lowest_K || level_K > highest_K) continue;
    // A slow fall is within the band for hours as well: compare its halves.
    const double middle_s = 0.5 * (corners[first].time_s + corners[last].time_s);
    const double early_K = line.at_K(0.5 * (corners[first].time_s + middle_s));
    const double late_K = line.at_K(0.5 * (corners[last].time_s + middle_s));
    const bool straight = std::abs(late_K - early_K) <= hold_drift_K;
    if (!straight) continue;
    longest = Level{corners[first].time_s, corners[last].time_s, level_K};
  }
  return longest;
}

std::optional<AnnealHold> hold_of(const Polyline& line,
                                  const std::vector<LogStretch>& stretches,
                                  const Glass& glass) {
  const double strain_K = glass.strain_point.value.in_K();
  const double annealing_K = glass.annealing_point.value.in_K();
  std::optional<Level> level = longest_level(line, strain_K, annealing_K + hold_near_K);
  if (!level) level = longest_level(line, strain_K - hold_near_K, strain_K);
  if (!level) return std::nullopt;
  AnnealHold hold{.step = 0,
                  .temperature = Temperature::from_K(level->mean_K),
                  .start_s = level->start_s,
                  .end_s = level->end_s,
                  .left_Pa = 0.0,
                  .off_equilibrium_K = 0.0,
                  .relaxes = false};
  const double middle_s = 0.5 * (level->start_s + level->end_s);
  // A slow fall stays in the band for a while: the hold ends where the stretch that falls begins.
  for (const LogStretch& stretch : stretches) {
    if (stretch.start_s > middle_s && stretch.start_s < level->end_s) hold.end_s = stretch.start_s;
  }
  while (hold.step + 1 < static_cast<int>(stretches.size()) &&
         stretches[static_cast<std::size_t>(hold.step)].end_s <= middle_s) {
    ++hold.step;
  }
  return hold;
}

LogCourse course_of(const Polyline& line,
                    const std::vector<std::size_t>& corner_of_stretch,
                    const Casting& casting,
                    const Kiln& kiln,
                    const Firing& firing) {
  const Glass& glass = casting.glass;
  const auto& corners = line.corners;
  LogCourse result{.course = {.followed = {},
                              .start = Temperature::from_K(corners.front().T_K),
                              .steps = corner_of_stretch.size() - 1},
                   .stretches = {},
                   .end_s = corners.back().time_s,
                   .last = Temperature::from_K(corners.back().T_K),
                   .hottest = Temperature::from_K(corners.front().T_K),
                   .corners = corners.size()};
  AirCurve& air = result.course.followed.air;
  air.corners.push_back({corners.front().time_s, corners.front().T_K, 0});
  for (std::size_t s = 1; s < corner_of_stretch.size(); ++s) {
    const auto& from = corners[corner_of_stretch[s - 1]];
    const auto& to = corners[corner_of_stretch[s]];
    result.stretches.push_back(
        {.start_s = from.time_s,
         .end_s = to.time_s,
         .from = Temperature::from_K(from.T_K),
         .to = Temperature::from_K(to.T_K),
         .rate = Rate::from_K_per_s(std::abs(to.T_K - from.T_K) / (to.time_s - from.time_s))});
    for (std::size_t i = corner_of_stretch[s - 1] + 1; i <= corner_of_stretch[s]; ++i) {
      air.corners.push_back({corners[i].time_s, corners[i].T_K, static_cast<int>(s) - 1});
    }
  }
  // What comes after the log.
  const Program fall{.start = result.last, .steps = {fall_to_room(result.last, casting, firing)}};
  const FollowedProgram after = follow(fall, kiln, Controller::LateOnCooling::goes_on, result.last);
  for (std::size_t i = 1; i < after.air.corners.size(); ++i) {
    air.corners.push_back({result.end_s + after.air.corners[i].time_s,
                           after.air.corners[i].T_K,
                           static_cast<int>(result.course.steps)});
  }
  for (const auto& corner : corners) {
    result.hottest = std::max(result.hottest, Temperature::from_K(corner.T_K));
  }
  result.course.counts_from_s = in_pieces_until_s(air, glass);
  result.melted = result.course.counts_from_s > 0.0;
  result.begins_cold = result.course.start < glass.strain_point.value;
  result.course.hold = hold_of(line, result.stretches, glass);
  return result;
}

}  // namespace

LogCourse course_of(const Polyline& line,
                    const Casting& casting,
                    const Kiln& kiln,
                    const Firing& firing) {
  return course_of(line, outline(line, stretch_within_K, most_stretches), casting, kiln, firing);
}

Polyline coarser(const Polyline& line, const LogCourse& course, double tolerance_K) {
  Polyline coarse;
  std::vector<double> time_s;
  std::vector<double> T_K;
  std::size_t next = 0;
  for (const auto& corner : line.corners) {
    time_s.push_back(corner.time_s);
    T_K.push_back(corner.T_K);
    const bool ends =
        next < course.stretches.size() && corner.time_s >= course.stretches[next].end_s;
    if (!ends) continue;
    ++next;
    Polyline part = polyline_within(time_s, T_K, tolerance_K);
    part.corners.back().T_K = corner.T_K;
    const auto skipped = coarse.corners.empty() ? 0 : 1;  // where the part before ended
    coarse.corners.insert(coarse.corners.end(), part.corners.begin() + skipped, part.corners.end());
    time_s.assign(1, corner.time_s);
    T_K.assign(1, corner.T_K);
  }
  return coarse;
}

LogCourse with_rate(const Polyline& line,
                    const LogCourse& as_run,
                    std::size_t stretch,
                    Rate rate,
                    const Casting& casting,
                    const Kiln& kiln,
                    const Firing& firing) {
  const LogStretch& changed = as_run.stretches[stretch];
  const double slower = changed.rate.in_K_per_s() / rate.in_K_per_s();
  const double more_s = (slower - 1.0) * (changed.end_s - changed.start_s);
  Polyline moved = line;
  std::vector<std::size_t> corner_of_stretch{0};
  std::size_t next = 0;
  for (std::size_t i = 0; i < line.corners.size(); ++i) {
    double& time_s = moved.corners[i].time_s;
    // The stretches' ends are corners of a line within the one they were found in.
    while (next < as_run.stretches.size() && time_s >= as_run.stretches[next].end_s) {
      if (i > corner_of_stretch.back()) corner_of_stretch.push_back(i);
      ++next;
    }
    if (time_s >= changed.end_s) {
      time_s += more_s;
    } else if (time_s > changed.start_s) {
      time_s = changed.start_s + slower * (time_s - changed.start_s);
    }
  }
  return course_of(moved, corner_of_stretch, casting, kiln, firing);
}

bool holds_in_other_degrees(const Polyline& line, Degrees said, const Glass& glass) {
  Polyline other = line;
  for (auto& corner : other.corners) {
    const double number = in_degrees(Temperature::from_K(corner.T_K), said);
    const bool in_C = said == Degrees::celsius;
    corner.T_K = (in_C ? Temperature::from_F(number) : Temperature::from_C(number)).in_K();
  }
  return longest_level(other,
                       glass.strain_point.value.in_K(),
                       glass.annealing_point.value.in_K() + hold_near_K)
      .has_value();
}

stress::RelaxationSettings relaxation_settings(const LogCourse& course, const Glass& glass) {
  stress::RelaxationSettings settings;
  if (course.begins_cold) settings.start_fictive_K = glass.strain_point.value.in_K();
  return settings;
}

}  // namespace thickset

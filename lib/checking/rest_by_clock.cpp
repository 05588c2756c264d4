#include "checking/rest_by_clock.h"

#include <algorithm>

namespace thickset {
namespace {

/// The legs of a program and when each ends, as the kiln runs it.
struct Timeline {
  std::vector<Leg> all;
  std::vector<double> end_s;

  Timeline(const Program& program, Temperature start, const AirCurve& air)
      : all{legs(program, start)} {
    std::vector<double> step_end_s(program.steps.size(), 0.0);
    for (const AirCurve::Corner& corner : air.corners) {
      const auto step = static_cast<std::size_t>(std::max(corner.step, 0));
      if (step < step_end_s.size()) step_end_s[step] = corner.time_s;
    }
    for (std::size_t i = 0; i < all.size(); ++i) {
      double ends_s = step_end_s[static_cast<std::size_t>(all[i].step)];
      const bool hold_follows = i + 1 < all.size() && all[i + 1].step == all[i].step;
      if (hold_follows) ends_s -= in_s(std::get<Duration>(all[i + 1].pace));
      end_s.push_back(ends_s);
    }
  }
  /// The leg under way; their number where the program is over.
  std::size_t leg_at(double at_s) const {
    const auto later = std::find_if(end_s.begin(), end_s.end(), [&](double s) { return s > at_s; });
    return static_cast<std::size_t>(later - end_s.begin());
  }
};

}  // namespace

std::vector<Step> joined(const std::vector<Leg>& legs, std::size_t first, std::size_t end) {
  std::vector<Step> steps;
  for (std::size_t i = first; i < end; ++i) {
    if (!legs[i].is_hold) {
      steps.push_back({.target = legs[i].to, .pace = legs[i].pace});
    } else if (!steps.empty()) {
      steps.back().hold += std::get<Duration>(legs[i].pace);
    }
  }
  return steps;
}

Program rest_by_clock(const Program& program, Temperature start, const AirCurve& air, double at_s) {
  const Timeline timeline{program, start, air};
  const std::size_t now = timeline.leg_at(at_s);
  Program rest;
  if (now == timeline.all.size()) return rest;
  const Leg& leg = timeline.all[now];
  Step first{.target = leg.to, .pace = AsFastAsPossible{}};
  if (leg.is_hold) {
    first.hold = seconds(timeline.end_s[now] - at_s);
  } else {
    first.pace = leg.pace;
    const auto* const time = std::get_if<Duration>(&leg.pace);
    const double whole_K = (leg.from.value_or(start) - leg.to).in_K();
    if (time != nullptr && whole_K != 0.0) {
      const double left_K = air.at_K(at_s) - leg.to.in_K();
      first.pace = *time * std::clamp(left_K / whole_K, 0.0, 1.0);
    }
  }
  std::size_t next = now + 1;
  for (; next < timeline.all.size() && timeline.all[next].is_hold; ++next) {
    first.hold += std::get<Duration>(timeline.all[next].pace);
  }
  rest.steps.push_back(first);
  const std::vector<Step> after = joined(timeline.all, next, timeline.all.size());
  rest.steps.insert(rest.steps.end(), after.begin(), after.end());
  return rest;
}

LegUnderWay leg_under_way(const Program& program,
                          Temperature start,
                          const AirCurve& air,
                          double at_s) {
  const Timeline timeline{program, start, air};
  const std::size_t now = timeline.leg_at(at_s);
  const double begin_s = now > 0 ? timeline.end_s[now - 1] : 0.0;
  const bool over = now == timeline.all.size();
  return {.holds = !over && timeline.all[now].is_hold,
          .own_pace = over || std::holds_alternative<AsFastAsPossible>(timeline.all[now].pace),
          .step = over ? static_cast<int>(program.steps.size()) : timeline.all[now].step,
          .begin_s = begin_s,
          .from = Temperature::from_K(air.at_K(begin_s))};
}

}  // namespace thickset

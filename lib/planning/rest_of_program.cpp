#include "planning/rest_of_program.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/rest_by_clock.h"
#include "units/spoken.h"

namespace thickset {
namespace {

/// The part of a ramp below `here`.
Step part_below(const Step& step, Temperature from, Temperature here) {
  Step part = step;
  if (const auto* const time = std::get_if<Duration>(&step.pace)) {
    part.pace = *time * ((here - step.target).in_K() / (from - step.target).in_K());
  }
  return part;
}

constexpr auto unlevel_for = minutes(20.0);  // at most, to be level all the same
constexpr auto there_for = minutes(30.0);    // within reached_within, to count as reached

bool near(Temperature here, Temperature hold) {
  return std::abs((here - hold).in_K()) <= at_hold_within(hold).in_K();
}

/// How long a kiln that comes to a hold by this ramp has looked level when it arrives.
Duration looks_level(const Step& ramp, Temperature from) {
  const std::optional<Duration> whole = ramp_time(ramp.pace, from, ramp.target);
  const double ramp_K = std::abs((from - ramp.target).in_K());
  if (!whole || ramp_K <= 0.0) return Duration{0.0};
  return *whole * std::min(level_within(ramp.target).in_K() / ramp_K, 1.0);
}

/// At the hold, or near it and level there.
bool at_hold(Temperature here, Temperature hold, Duration level) {
  const bool level_near =
      std::abs((here - hold).in_K()) <= level_within(hold).in_K() && level >= unlevel_for;
  return near(here, hold) || level_near;
}

/// The first moment from there on at which the air is this near to a temperature, or passes it.
std::optional<double> reaches_s(const AirCurve& air,
                                double from_s,
                                Temperature target,
                                TemperatureDifference within) {
  const double lowest_K = (target - within).in_K(), highest_K = (target + within).in_K();
  for (std::size_t i = 1; i < air.corners.size(); ++i) {
    const AirCurve::Corner& end = air.corners[i];
    if (end.time_s < from_s) continue;
    const double begin_s = std::max(from_s, air.corners[i - 1].time_s);
    const double begin_K = air.at_K(begin_s);
    if (begin_K >= lowest_K && begin_K <= highest_K) return begin_s;
    const double edge_K = begin_K < lowest_K ? lowest_K : highest_K;
    if ((edge_K - begin_K) * (edge_K - end.T_K) > 0.0) continue;
    return begin_s + (end.time_s - begin_s) * (edge_K - begin_K) / (end.T_K - begin_K);
  }
  return std::nullopt;
}

}  // namespace

Program TailOfProgram::whole(Pace to_hold, Duration hold_for) const {
  Program program;
  program.steps.push_back(
      {.target = hold_at, .pace = to_hold, .hold = hold_for, .comment = "hold"});
  program.steps.insert(program.steps.end(), after.begin(), after.end());
  return program;
}

Program TailOfProgram::below(Temperature here) const {
  Program program;
  Temperature from = hold_at;
  for (const Step& step : after) {
    if (step.target < here && from > step.target) {
      program.steps.push_back(from > here ? part_below(step, from, here) : step);
    }
    from = step.target;
  }
  return program;
}

Program TailOfProgram::rest(Temperature here, const LevelAt& level_at) const {
  const auto rest_of_hold = [&](Temperature at, Duration left) {
    Program program = below(at);
    program.steps.insert(
        program.steps.begin(),
        {.target = at, .pace = AsFastAsPossible{}, .hold = left, .comment = "hold"});
    return program;
  };
  const Duration a_minute = minutes(1.0);
  if (at_hold(here, hold_at, level_at(hold_at))) {
    Duration there = level_at(hold_at);
    if (!before.empty()) {
      const Temperature from = before.size() > 1 ? before[before.size() - 2].target : starts_at;
      there -= looks_level(before.back(), from);
    }
    const Duration left = hold - std::max(there, Duration{0.0});
    return left < a_minute ? below(here) : rest_of_hold(hold_at, left);
  }
  if (here > hold_at) return whole(AsFastAsPossible{}, hold);
  Temperature from = hold_at;
  for (const Step& step : after) {
    if (step.hold > a_minute && at_hold(here, step.target, level_at(step.target))) {
      const Duration there = level_at(step.target) - looks_level(step, from);
      const Duration left = step.hold - std::max(there, Duration{0.0});
      // Not there yet: the ramp to it is still running.
      if (there < Duration{0.0} && here > step.target) return below(here);
      return left < a_minute ? below(std::min(here, step.target)) : rest_of_hold(step.target, left);
    }
    from = step.target;
  }
  return below(here);
}

std::optional<Program> TailOfProgram::rest_before_hold(const FiringSoFar& so_far) const {
  if (!so_far.from_its_start) return std::nullopt;
  // A hold near its own, after everything hotter.
  if (so_far.hold &&
      std::abs((so_far.hold->temperature - hold_at).in_K()) <= reached_within.in_K()) {
    const auto hottest = std::max_element(
        so_far.air.corners.begin(), so_far.air.corners.end(), [](const auto& a, const auto& b) {
          return a.T_K < b.T_K;
        });
    if (hottest->time_s <= so_far.hold->end_s) return std::nullopt;
  }
  const Temperature here = so_far.kiln;
  double there_s = 0.0;
  Temperature from = so_far.start;
  for (auto step = before.begin(); step != before.end(); ++step) {
    const bool to_hold = step + 1 == before.end();
    std::optional<double> reached =
        reaches_s(so_far.air, there_s, step->target, at_hold_within(step->target));
    if (!reached && !to_hold) {
      reached = reaches_s(so_far.air, there_s, step->target, reached_within);
      if (reached && so_far.now_s() - *reached < in_s(there_for)) reached.reset();
    }
    const double until_s = reached.value_or(0.0) + in_s(step->hold);
    if (reached && until_s <= so_far.now_s()) {
      there_s = until_s;
      from = step->target;
      continue;
    }
    Program program;
    if (reached) {
      program.steps.push_back({.target = step->target,
                               .pace = AsFastAsPossible{},
                               .hold = seconds(until_s - so_far.now_s())});
    } else {
      program.steps.push_back(part_below(*step, from, here));
    }
    program.steps.insert(program.steps.end(), step + 1, before.end());
    program.steps.back().hold = hold;  // the last of them is the ramp to it
    program.steps.back().comment = "hold";
    program.steps.insert(program.steps.end(), after.begin(), after.end());
    return program;
  }
  return std::nullopt;
}

TailOfProgram tail_of(const Program& program,
                      const Casting& casting,
                      const Kiln& kiln,
                      const Firing& firing,
                      const Place& place) {
  const Temperature start = start_of(program, firing);
  const AirCurve air = follow(with_fall_to_room(program, casting, firing),
                              kiln,
                              Controller::LateOnCooling::waits,
                              start)
                           .air;
  const std::optional<AnnealHold> hold = find_hold(air, casting.glass);
  if (!hold) {
    const HoldRange range = hold_range(casting.glass);
    throw Error{place,
                fmt::format("the program has no hold that could anneal this glass, {} to {}",
                            spoken(range.lowest, program.degrees),
                            spoken(range.highest, program.degrees)),
                "name a program made for this glass"};
  }
  const std::vector<Leg> all = legs(program, start);
  // The hold may be keyed in several parts.
  std::size_t last = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].is_hold && all[i].step <= hold->step) last = i;
  }
  TailOfProgram tail{.starts_at = start,
                     .before = {},
                     .hold_at = all[last].to,
                     .hold = Duration{0.0},
                     .after = {}};
  std::size_t first = last + 1;
  for (; first > 0 && all[first - 1].is_hold && all[first - 1].to == tail.hold_at; --first) {
    tail.hold += std::get<Duration>(all[first - 1].pace);
  }
  tail.before = joined(all, 0, first);
  tail.after = joined(all, last + 1, all.size());
  const std::optional<AnnealHold> held =
      measure(casting, kiln, Controller::LateOnCooling::waits, program, firing).hold;
  tail.relaxes = held && held->relaxes;
  if (tail.after.empty()) {
    throw Error{place, "the program ends with its hold", "name one that cools down from it"};
  }
  return tail;
}

TailOfProgram led_to_by(std::vector<Step> before, TailOfProgram tail) {
  if (before.empty()) return tail;
  before.back().target = tail.hold_at;
  tail.before = std::move(before);
  return tail;
}

TemperatureDifference at_hold_within(Temperature hold) {
  return std::max(TemperatureDifference::from_K(2.0), sensor_tolerance(hold));
}

TemperatureDifference level_within(Temperature hold) {
  return std::max(TemperatureDifference::from_K(6.0), sensor_tolerance(hold));
}

Duration level_for(const FiringSoFar& so_far, Temperature at) {
  const double lowest_K = (at - level_within(at)).in_K();
  const double highest_K = (at + level_within(at)).in_K();
  const std::vector<AirCurve::Corner>& corners = so_far.air.corners;
  double since_s = so_far.now_s();    // level since then
  double outside_s = so_far.now_s();  // the beginning of what was level, while looking before it
  for (std::size_t i = corners.size() - 1; i > 0; --i) {
    const AirCurve::Corner& end = corners[i];
    const AirCurve::Corner& begin = corners[i - 1];
    // The part of this line within the band.
    const double low_K = std::min(begin.T_K, end.T_K), high_K = std::max(begin.T_K, end.T_K);
    if (high_K < lowest_K || low_K > highest_K) {
      if (outside_s - begin.time_s > in_s(unlevel_for)) break;
      continue;
    }
    const auto at_s = [&](double T_K) {
      const double share = high_K > low_K ? (T_K - begin.T_K) / (end.T_K - begin.T_K) : 0.0;
      return begin.time_s + std::clamp(share, 0.0, 1.0) * (end.time_s - begin.time_s);
    };
    const double one_s = at_s(lowest_K), other_s = at_s(highest_K);
    const double enters_s = high_K > low_K ? std::min(one_s, other_s) : begin.time_s;
    const double leaves_s = high_K > low_K ? std::max(one_s, other_s) : end.time_s;
    if (outside_s - leaves_s > in_s(unlevel_for)) break;
    since_s = outside_s = enters_s;
  }
  return seconds(so_far.now_s() - since_s);
}

Program slower(const Program& program, Temperature from, double factor) {
  Program changed = program;
  for (Step& step : changed.steps) {
    if (const std::optional<Duration> time = ramp_time(step.pace, from, step.target)) {
      step.pace = *time * factor;
    } else {
      constexpr auto usual = Rate::from_K_per_h(60.0);
      step.pace = *ramp_time(usual, from, step.target) * factor;
    }
    from = step.target;
  }
  return changed;
}

}  // namespace thickset

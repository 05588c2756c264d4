#include "planning/rest_of_program.h"

#include <algorithm>
#include <cmath>

#include "base/error.h"
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

bool near(Temperature one, Temperature other) {
  return std::abs((one - other).in_K()) <= at_hold_within.in_K();
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

Program TailOfProgram::rest(Temperature here, Duration level_for) const {
  if (here > hold_at + at_hold_within) return whole(AsFastAsPossible{}, hold);
  Program program = below(here);
  const auto rest_of_hold = [&](Temperature at, Duration length) {
    const Duration left = length - level_for;
    if (in_min(left) < 1.0) return;
    program.steps.insert(
        program.steps.begin(),
        {.target = at, .pace = AsFastAsPossible{}, .hold = left, .comment = "hold"});
  };
  if (near(here, hold_at)) {
    rest_of_hold(hold_at, hold);
    return program;
  }
  for (const Step& step : after) {
    if (in_s(step.hold) > 0.0 && near(here, step.target)) {
      program = below(step.target);
      rest_of_hold(step.target, step.hold);
      break;
    }
  }
  return program;
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
    throw Error{place,
                "the program has no hold near the annealing point",
                "name one that has, or leave it out: one is planned then"};
  }
  const std::vector<Leg> all = legs(program, start);
  // The hold may be keyed in several parts.
  std::size_t last = 0;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].is_hold && all[i].step <= hold->step) last = i;
  }
  TailOfProgram tail{.hold_at = all[last].to, .hold = Duration{0.0}, .after = {}};
  for (std::size_t i = last + 1; i-- > 0 && all[i].is_hold && all[i].to == tail.hold_at;) {
    tail.hold += std::get<Duration>(all[i].pace);
  }
  for (std::size_t i = last + 1; i < all.size(); ++i) {
    if (all[i].is_hold && !tail.after.empty()) {
      tail.after.back().hold += std::get<Duration>(all[i].pace);
    } else if (!all[i].is_hold) {
      tail.after.push_back({.target = all[i].to, .pace = all[i].pace});
    }
  }
  if (tail.after.empty()) {
    throw Error{place, "the program ends with its hold", "name one that cools down from it"};
  }
  return tail;
}

Duration level_for(const FiringSoFar& so_far) {
  constexpr double level_within_K = 4.0;
  const double here_K = so_far.kiln.in_K();
  double since_s = so_far.now_s();
  for (auto corner = so_far.air.corners.rbegin(); corner != so_far.air.corners.rend(); ++corner) {
    if (std::abs(corner->T_K - here_K) > level_within_K) {
      // Straight from here into the band.
      const auto inside = corner == so_far.air.corners.rbegin() ? corner : corner - 1;
      const double edge_K = here_K + std::copysign(level_within_K, corner->T_K - inside->T_K);
      if (inside->T_K != corner->T_K) {
        since_s = corner->time_s +
                  (inside->time_s - corner->time_s) *
                      std::clamp((edge_K - corner->T_K) / (inside->T_K - corner->T_K), 0.0, 1.0);
      }
      break;
    }
    since_s = corner->time_s;
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

#include "planning/way_on.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "stress/permanent_estimate.h"

namespace thickset {
namespace {

constexpr double slowest_way_K_per_h = 0.5;
constexpr auto every_controller_keys = Rate::from_K_per_h(1.0);
constexpr double close_enough_way = 0.02;  // of a rate, relative
constexpr double shortest_wait_h = 0.5;
constexpr double longest_wait_h = 64.0;
constexpr double longer_hold = 1.5;
constexpr double slower_by = 1.15;  // from one rate tried to the next
constexpr int most_longer_holds = 4;
constexpr double slow_factor = 10.0;
// Where no way keeps the limits, one that asks more than letting it fall has to leave less by this.
constexpr double worth_more_work = 0.8;
constexpr double nearly_as_little = 1.01;

/// The quickest rate, up to the kiln's own, at which `passes`; nullopt where the slowest does not.
std::optional<Rate> quickest(Rate fastest, const std::function<bool(Rate)>& passes) {
  if (passes(fastest)) return fastest;
  double low = std::log(slowest_way_K_per_h);
  double high = std::log(fastest.in_K_per_h());
  if (!passes(Rate::from_K_per_h(slowest_way_K_per_h))) return std::nullopt;
  while (high - low > close_enough_way) {
    const double middle = 0.5 * (low + high);
    (passes(Rate::from_K_per_h(std::exp(middle))) ? low : high) = middle;
  }
  return Rate::from_K_per_h(std::exp(low));
}

/// Whether the way back to the hold at this rate pulls little enough until half of it is over: the
/// pull is largest shortly after the kiln's arrival.
bool arrives_gently(const TailOfProgram& tail,
                    Rate rate,
                    const FiringSoFar& so_far,
                    const WaysRequest& request) {
  Program to_hold;
  to_hold.steps.push_back({.target = tail.hold_at, .pace = rate, .hold = 0.5 * tail.hold});
  const KilnCourse course = with_rest(so_far,
                                      to_hold,
                                      request.casting,
                                      request.kiln,
                                      request.controller.late_on_cooling,
                                      request.firing);
  AirCurve air;
  for (const AirCurve::Corner& corner : course.followed.air.corners) {
    if (corner.step <= 1) air.corners.push_back(corner);
  }
  const std::vector<Bulk> bulks = held_to(request);
  return std::all_of(bulks.begin(), bulks.end(), [&](Bulk bulk) {
    const auto run = [&](Respect respect) {
      return simulate(request.casting,
                      request.kiln,
                      air,
                      so_far.start,
                      respect,
                      {.relaxation = so_far.relaxation, .bulk = bulk});
    };
    const History history = run(Respect::steady_difference);
    std::optional<History> of_centre;
    if (permanent_by_simulated(request.casting.governing_shape()) != 1.0) {
      of_centre = run(Respect::permanent_tension);
    }
    return ahead(history, of_centre, so_far.now_s(), history.end_s(), bulk, request).within;
  });
}

WayOn go_back(const TailOfProgram& tail, const FiringSoFar& so_far, const WaysRequest& request) {
  // From the kiln's own pace down. Slower is not always gentler: what has set shows in full before
  // the glass is warm enough to lose it.
  Rate rate = request.kiln.fastest_heating;
  while (rate.in_K_per_h() / slower_by >= slowest_way_K_per_h &&
         !arrives_gently(tail, rate, so_far, request)) {
    rate = Rate::from_K_per_h(rate.in_K_per_h() / slower_by);
  }
  Duration hold = tail.hold;
  WayOn way = judge(WayOn::Kind::back_to_hold, tail.whole(rate, hold), so_far, request);
  for (int i = 0; i < most_longer_holds && way.keeps_tension; ++i) {
    if (way.relaxes && way.keeps_grade) break;
    hold = hold * longer_hold;
    way = judge(WayOn::Kind::back_to_hold, tail.whole(rate, hold), so_far, request);
  }
  way.hold = hold;
  way.heating = rate;
  // As it is keyed, where it is keyed as a rate.
  const std::vector<Step>& keyed = way.fitted.program.steps;
  const Rate* const heating = keyed.empty() ? nullptr : std::get_if<Rate>(&keyed.front().pace);
  if (heating) way.heating = *heating;
  return way;
}

WayOn wait_here(const TailOfProgram& tail, const FiringSoFar& so_far, const WaysRequest& request) {
  const auto way_of = [&](double wait_h) {
    Program rest = tail.below(so_far.kiln);
    rest.steps.insert(rest.steps.begin(),
                      {.target = so_far.kiln,
                       .pace = AsFastAsPossible{},
                       .hold = hours(wait_h),
                       .comment = "hold"});
    return judge(WayOn::Kind::hold_here, rest, so_far, request);
  };
  double wait_h = shortest_wait_h;
  WayOn way = way_of(wait_h);
  while (!way.passes() && wait_h < longest_wait_h) {
    wait_h *= 2.0;
    way = way_of(wait_h);
  }
  return way;
}

/// One ramp to the last target at the quickest rate that pulls no more than the limit.
WayOn fall(const TailOfProgram& tail, const FiringSoFar& so_far, const WaysRequest& request) {
  const Temperature last = std::min(tail.after.back().target, so_far.kiln);
  const auto ramp = [&](Rate rate) {
    Program program;
    program.steps.push_back({.target = last, .pace = rate});
    return program;
  };
  const std::optional<Rate> rate = quickest(Rate::from_K_per_h(60.0), [&](Rate tried) {
    const KilnCourse course = course_from_now(ramp(tried), so_far, request);
    return judge_course(course, so_far, request, measure_own(course, so_far, request))
        .keeps_tension;
  });
  return judge(
      WayOn::Kind::fall_closed, ramp(rate.value_or(every_controller_keys)), so_far, request);
}

/// Readings begin and end a hold late and early.
bool was_full(const std::optional<AnnealHold>& hold, Duration length) {
  constexpr double nearly = 0.9;
  return hold && hold->end_s - hold->start_s >= nearly * in_s(length);
}

}  // namespace

std::vector<WayOn> ways_on(const TailOfProgram& tail,
                           const FiringSoFar& so_far,
                           const WaysRequest& asked,
                           const Progress& progress) {
  const auto say = [&](const char* what) {
    if (progress) progress(what);
  };
  WaysRequest request = asked;
  request.hold_relaxes = tail.relaxes;
  request.hold_was_full = so_far.hold_in_full || was_full(so_far.hold, tail.hold);
  const auto go_on = [&](const Program& rest, bool before_hold) {
    WayOn way = judge(WayOn::Kind::go_on, rest, so_far, request);
    way.before_hold = before_hold;
    return way;
  };
  say("simulating the rest of the program from here");
  const std::optional<Program> before_hold = tail.rest_before_hold(so_far);
  if (so_far.on_program && so_far.before_hold) return {go_on(*so_far.on_program, true)};
  if (!so_far.on_program && before_hold) return {go_on(*before_hold, true)};
  std::vector<WayOn> ways;
  if (so_far.on_program) {
    ways.push_back(go_on(*so_far.on_program, false));
  } else {
    const bool above = !so_far.hold && so_far.kiln > tail.hold_at + reached_within;
    const auto level_at = [&](Temperature at) { return level_for(so_far, at); };
    ways.push_back(go_on(tail.rest(so_far.kiln, level_at), above));
  }
  // Below, nothing is set any more, and to go back would be another anneal: `rewarm` plans that,
  // for what the piece shows when it is cold.
  const double sets_to_K =
      request.casting.glass.strain_point.value.in_K() - stress::setting_below_strain_K;
  const double slowest_K = ways.front().measured.history.at(so_far.now_s()).centre_K;
  const bool below_hold = so_far.kiln < tail.hold_at - at_hold_within(tail.hold_at);
  if (below_hold && slowest_K > sets_to_K) {
    if (!ways.front().passes()) {
      say("simulating a wait at this temperature");
      ways.push_back(wait_here(tail, so_far, request));
    }
    say("looking for the quickest way back to the hold");
    ways.push_back(go_back(tail, so_far, request));
  }
  const bool any = std::any_of(ways.begin(), ways.end(), [](const WayOn& w) { return w.passes(); });
  if (!any) {
    say("looking for the quickest fall from here");
    ways.push_back(fall(tail, so_far, request));
  }
  return ways;
}

const WayOn& advised(std::span<const WayOn> ways) {
  for (const WayOn& way : ways) {
    if (way.passes()) return way;
  }
  const WayOn* nearest = &ways.back();
  for (const WayOn& way : ways) {
    const bool can_be_done = way.keeps_tension && way.fitted.cannot.empty();
    if (can_be_done && way.leaves_nm_per_cm < worth_more_work * nearest->leaves_nm_per_cm) {
      nearest = &way;
    }
  }
  // Nothing is keyed anew for nothing.
  const WayOn& go_on = ways.front();
  const bool as_good = go_on.fitted.cannot.empty() &&
                       go_on.leaves_nm_per_cm <= nearly_as_little * nearest->leaves_nm_per_cm &&
                       go_on.pulls_Pa <= nearly_as_little * nearest->pulls_Pa;
  return as_good ? go_on : *nearest;
}

Retardation certain_by_now(const WayOn& go_on,
                           const FiringSoFar& so_far,
                           const WaysRequest& request) {
  const Program slow = slower(go_on.fitted.program, so_far.kiln, slow_factor);
  const KilnCourse course = course_from_now(slow, so_far, request);
  Retardation least = go_on.measured.permanent.retardation;
  for (const Bulk bulk : held_to(request)) {
    least = std::min(
        least,
        measure_from(so_far, course, request.casting, request.kiln, bulk).permanent.retardation);
  }
  return least;
}

}  // namespace thickset

#include "planning/way_on.h"

#include <algorithm>
#include <cmath>
#include <functional>

#include "checking/rules.h"
#include "planning/rewarm.h"
#include "stress/permanent_estimate.h"

namespace thickset {
namespace {

constexpr double slowest_K_per_h = 0.5;
constexpr double close_enough = 0.02;  // of a rate, relative
constexpr double shortest_wait_h = 0.5;
constexpr double longest_wait_h = 64.0;
constexpr double longer_hold = 1.5;
constexpr double slower_by = 1.15;  // from one rate tried to the next
// A tail that leaves just the grade leaves this much more or less after another past.
constexpr double same_grade = 1.005;
constexpr int most_longer_holds = 4;
constexpr double slow_factor = 10.0;
// Where no way keeps the limits, one that asks more than letting it fall has to leave less by this.
constexpr double worth_more_work = 0.8;

/// What the glass is pulled by from now on, against the limit.
struct Ahead {
  double pulls_Pa = 0.0;
  bool within = true;
};

Ahead ahead(const History& history,
            double from_s,
            double to_s,
            double limit_Pa,
            const IfHeldHere& held) {
  // As for a piece that holds more than the limit when it is heated again: else nothing could be
  // done with it.
  const double more_Pa = least_share_added * limit_Pa;
  const auto within = [&](double tension_Pa, double held_Pa) {
    return tension_Pa <= std::max(limit_Pa, held_Pa + more_Pa);
  };
  Ahead result;
  for (const History::Row& row : history.rows) {
    if (row.time_s < from_s || row.time_s > to_s) continue;
    result.pulls_Pa = std::max(result.pulls_Pa, row.tension_Pa);
    result.within = result.within && within(row.tension_Pa, held.anywhere_Pa) &&
                    within(row.surface_Pa, held.surface_Pa) &&
                    within(row.centre_Pa, held.centre_Pa);
  }
  return result;
}

const IfHeldHere& held_under(Bulk bulk, const WaysRequest& request) {
  return *std::find_if(request.if_held_here.begin(),
                       request.if_held_here.end(),
                       [&](const IfHeldHere& held) { return held.bulk == bulk; });
}

KilnCourse course_of(const Program& rest, const FiringSoFar& so_far, const WaysRequest& request) {
  KilnCourse course = with_rest(so_far,
                                rest,
                                request.casting,
                                request.kiln,
                                request.controller.late_on_cooling,
                                request.firing);
  const std::optional<AnnealHold> hold = find_hold(course.followed.air, request.casting.glass);
  if (hold && hold->start_s >= so_far.now_s() - 1.0) course.hold = hold;
  return course;
}

/// Largest values under every treatment held to.
struct Judged {
  double leaves_nm_per_cm = 0.0, pulls_Pa = 0.0;
  bool keeps_tension = true;
};

Judged judge_course(const KilnCourse& course,
                    const FiringSoFar& so_far,
                    const WaysRequest& request,
                    const Measured& own) {
  Judged judged;
  const auto take = [&](const Measured& measured, Bulk bulk) {
    const Ahead tension = ahead(measured.history,
                                so_far.now_s(),
                                measured.history.end_s(),
                                request.limits.tension.in_Pa(),
                                held_under(bulk, request));
    judged.leaves_nm_per_cm =
        std::max(judged.leaves_nm_per_cm, measured.permanent.retardation.in_nm_per_cm());
    judged.pulls_Pa = std::max(judged.pulls_Pa, tension.pulls_Pa);
    judged.keeps_tension = judged.keeps_tension && tension.within;
  };
  take(own, request.casting.glass.relaxation.bulk);
  for (const Bulk bulk : request.bulks) {
    if (bulk == request.casting.glass.relaxation.bulk) continue;
    take(measure_from(so_far, course, request.casting, request.kiln, bulk), bulk);
  }
  return judged;
}

Measured measure_own(const KilnCourse& course,
                     const FiringSoFar& so_far,
                     const WaysRequest& request) {
  return measure_from(
      so_far, course, request.casting, request.kiln, request.casting.glass.relaxation.bulk);
}

/// The quickest rate, up to the kiln's own, at which `passes`; nullopt where the slowest does not.
std::optional<Rate> quickest(Rate fastest, const std::function<bool(Rate)>& passes) {
  if (passes(fastest)) return fastest;
  double low = std::log(slowest_K_per_h);
  double high = std::log(fastest.in_K_per_h());
  if (!passes(Rate::from_K_per_h(slowest_K_per_h))) return std::nullopt;
  while (high - low > close_enough) {
    const double middle = 0.5 * (low + high);
    (passes(Rate::from_K_per_h(std::exp(middle))) ? low : high) = middle;
  }
  return Rate::from_K_per_h(std::exp(low));
}

std::optional<Duration> first_hold(const Program& rest, Temperature here) {
  if (rest.steps.empty()) return std::nullopt;
  const Step& first = rest.steps.front();
  const bool waits = in_s(first.hold) > 0.0 && !(first.target < here - at_hold_within);
  return waits ? std::optional{first.hold} : std::nullopt;
}

WayOn go_back(const TailOfProgram& tail, const FiringSoFar& so_far, const WaysRequest& request) {
  const auto pulls_little = [&](Rate rate) {
    const KilnCourse course = course_of(tail.whole(rate, tail.hold), so_far, request);
    double arrives_s = so_far.now_s();
    for (const AirCurve::Corner& corner : course.followed.air.corners) {
      if (corner.step <= 1 && corner.T_K < tail.hold_at.in_K()) arrives_s = corner.time_s;
    }
    // A while longer: the pull is largest shortly after.
    arrives_s += 0.5 * in_s(tail.hold);
    return ahead(measure_own(course, so_far, request).history,
                 so_far.now_s(),
                 arrives_s,
                 request.limits.tension.in_Pa(),
                 held_under(request.casting.glass.relaxation.bulk, request))
        .within;
  };
  // From the kiln's own pace down. Slower is not always gentler: what has set shows in full before
  // the glass is warm enough to lose it.
  std::optional<WayOn> found;
  for (double rate_K_per_h = request.kiln.fastest_heating.in_K_per_h();
       rate_K_per_h >= slowest_K_per_h;
       rate_K_per_h /= slower_by) {
    const Rate rate = Rate::from_K_per_h(rate_K_per_h);
    const bool last = rate_K_per_h / slower_by < slowest_K_per_h;
    if (!last && !pulls_little(rate)) continue;
    Duration hold = tail.hold;
    WayOn way = judge(WayOn::Kind::back_to_hold, tail.whole(rate, hold), so_far, request);
    for (int i = 0; i < most_longer_holds && (!way.relaxes || !way.keeps_grade); ++i) {
      hold = hold * longer_hold;
      way = judge(WayOn::Kind::back_to_hold, tail.whole(rate, hold), so_far, request);
    }
    way.hold = hold;
    way.heating = rate;
    found = std::move(way);
    if (found->keeps_tension) break;
  }
  // As it is keyed, where it is keyed as a rate.
  const std::vector<Step>& keyed = found->fitted.program.steps;
  const Rate* const heating = keyed.empty() ? nullptr : std::get_if<Rate>(&keyed.front().pace);
  if (heating) found->heating = *heating;
  return *found;
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
    const KilnCourse course = course_of(ramp(tried), so_far, request);
    return judge_course(course, so_far, request, measure_own(course, so_far, request))
        .keeps_tension;
  });
  return judge(WayOn::Kind::fall_closed,
               ramp(rate.value_or(Rate::from_K_per_h(slowest_K_per_h))),
               so_far,
               request);
}

}  // namespace

KilnCourse held_here(const FiringSoFar& so_far, const WaysRequest& request, Duration length) {
  Program wait;
  wait.steps.push_back({.target = so_far.kiln, .pace = AsFastAsPossible{}, .hold = length});
  return course_of(wait, so_far, request);
}

std::vector<IfHeldHere> if_held_here(const FiringSoFar& so_far, const WaysRequest& request) {
  const Duration length = rules::time_to_even_out(request.casting);
  const KilnCourse course = held_here(so_far, request, length);
  const double until_s = so_far.now_s() + in_s(length);
  std::vector<Bulk> bulks = request.bulks;
  bulks.push_back(request.casting.glass.relaxation.bulk);
  std::vector<IfHeldHere> all;
  for (const Bulk bulk : bulks) {
    IfHeldHere held{.bulk = bulk, .surface_Pa = 0.0, .centre_Pa = 0.0, .anywhere_Pa = 0.0};
    const Measured measured = measure_from(so_far, course, request.casting, request.kiln, bulk);
    for (const History::Row& row : measured.history.rows) {
      if (row.time_s < so_far.now_s() || row.time_s > until_s) continue;
      held.surface_Pa = std::max(held.surface_Pa, row.surface_Pa);
      held.centre_Pa = std::max(held.centre_Pa, row.centre_Pa);
      held.anywhere_Pa = std::max(held.anywhere_Pa, row.tension_Pa);
    }
    all.push_back(held);
  }
  return all;
}

WayOn judge(WayOn::Kind kind,
            const Program& rest,
            const FiringSoFar& so_far,
            const WaysRequest& request) {
  WayOn way{.kind = kind,
            .fitted = {},
            .hold = first_hold(rest, so_far.kiln),
            .course = {.followed = {}, .start = so_far.start, .steps = 0}};
  Program whole = rest;
  if (whole.steps.empty()) {
    way.fitted.program.notation = request.controller.notation();
    way.fitted.program.degrees = request.controller.degrees;
  } else {
    const Rate own_pace = request.kiln.natural_cooling.rate_at(so_far.kiln);
    constexpr auto least = Rate::from_K_per_h(1.0);
    way.fitted =
        fit_to_controller(whole, request.controller, so_far.kiln, std::max(own_pace, least));
    Program started = way.fitted.program;
    if (!started.start) started.start = so_far.kiln;
    way.steps = steps_used(started, request.controller);
    if (way.steps > request.controller.steps) {
      way.fitted.cannot.push_back("it takes more steps than the controller has");
    }
  }
  way.course = course_of(way.fitted.program, so_far, request);
  way.measured = measure_own(way.course, so_far, request);
  const Judged judged = judge_course(way.course, so_far, request, way.measured);
  way.leaves_nm_per_cm = judged.leaves_nm_per_cm;
  way.pulls_Pa = judged.pulls_Pa;
  way.keeps_tension = judged.keeps_tension;
  way.keeps_grade = way.leaves_nm_per_cm <= same_grade * request.limits.grade.in_nm_per_cm();
  const std::optional<AnnealHold>& hold = way.measured.hold;
  way.relaxes = !hold || hold->start_s < so_far.now_s() - 1.0 || hold->relaxes;
  way.opening = earliest_opening(request.casting,
                                 way.measured.history,
                                 request.firing.room,
                                 request.limits.tension,
                                 so_far.now_s());
  way.opening.after = way.opening.after - seconds(so_far.now_s());
  return way;
}

std::vector<WayOn> ways_on(const TailOfProgram& tail,
                           const FiringSoFar& so_far,
                           const WaysRequest& request,
                           const Progress& progress) {
  const auto say = [&](const char* what) {
    if (progress) progress(what);
  };
  std::vector<WayOn> ways;
  say("simulating the rest of the program from here");
  ways.push_back(
      judge(WayOn::Kind::go_on, tail.rest(so_far.kiln, level_for(so_far)), so_far, request));
  // Below, nothing is set any more, and to go back would be another anneal: `rewarm` plans that,
  // for what the piece shows when it is cold.
  const double sets_to_K =
      request.casting.glass.strain_point.value.in_K() - stress::setting_below_strain_K;
  const double slowest_K = ways.front().measured.history.at(so_far.now_s()).centre_K;
  if (so_far.kiln < tail.hold_at - at_hold_within && slowest_K > sets_to_K) {
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
  return *nearest;
}

std::optional<Duration> elements_off_after(const WayOn& way,
                                           const FiringSoFar& so_far,
                                           const WaysRequest& request) {
  const auto passes = [&](double after_min) {
    const KilnCourse course = with_elements_off(
        so_far, way.course, minutes(after_min), request.casting, request.kiln, request.firing);
    const Judged judged =
        judge_course(course, so_far, request, measure_own(course, so_far, request));
    // Where the way itself is over, off may not make it worse.
    const double grade = std::max(request.limits.grade.in_nm_per_cm(), way.leaves_nm_per_cm);
    return judged.keeps_tension && judged.leaves_nm_per_cm <= grade;
  };
  if (passes(0.0)) return Duration{0.0};
  double early_min = 0.0;
  double late_min = 0.0;
  for (const AirCurve::Corner& corner : way.course.followed.air.corners) {
    if (corner.step < static_cast<int>(way.course.steps)) {
      late_min = std::ceil((corner.time_s - so_far.now_s()) / 60.0);
    }
  }
  if (!passes(late_min)) return std::nullopt;
  while (late_min - early_min > 1.0) {
    const double middle_min = std::floor(0.5 * (early_min + late_min));
    (passes(middle_min) ? late_min : early_min) = middle_min;
  }
  return minutes(late_min);
}

Retardation certain_by_now(const WayOn& go_on,
                           const FiringSoFar& so_far,
                           const WaysRequest& request) {
  const Program slow = slower(go_on.fitted.program, so_far.kiln, slow_factor);
  const KilnCourse course = course_of(slow, so_far, request);
  const Retardation left = measure_own(course, so_far, request).permanent.retardation;
  return std::min(left, go_on.measured.permanent.retardation);
}

}  // namespace thickset

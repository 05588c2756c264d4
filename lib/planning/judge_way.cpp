#include "planning/judge_way.h"

#include <algorithm>
#include <cmath>
#include <variant>

#include "checking/rules.h"
#include "planning/rest_of_program.h"
#include "planning/rewarm.h"

namespace thickset {
namespace {

// A tail that leaves just the grade leaves this much more or less after another past.
constexpr double same_grade = 1.005;

const IfHeldHere& held_under(Bulk bulk, const WaysRequest& request) {
  return *std::find_if(request.if_held_here.begin(),
                       request.if_held_here.end(),
                       [&](const IfHeldHere& held) { return held.bulk == bulk; });
}

/// Whether the hold of a way is long enough. The rest of a program's hold makes it as long as the
/// program's: the step from the last reading to the set point, and readings that go up and down,
/// take nothing from that.
bool relaxes(const WayOn& way, const FiringSoFar& so_far, const WaysRequest& request) {
  const std::optional<AnnealHold>& hold = way.measured.hold;
  if (!hold || hold->relaxes) return true;
  if (hold->end_s <= so_far.now_s() + 1.0) return request.hold_was_full;
  return way.kind == WayOn::Kind::go_on && request.hold_relaxes;
}

std::optional<Duration> first_hold(const Program& rest, Temperature here) {
  if (rest.steps.empty()) return std::nullopt;
  const Step& first = rest.steps.front();
  const bool goes_there_first = std::holds_alternative<AsFastAsPossible>(first.pace) ||
                                !(first.target < here - reached_within);
  if (in_s(first.hold) <= 0.0 || !goes_there_first) return std::nullopt;
  return minutes(std::ceil(in_min(first.hold)));  // as controllers are told it
}

/// At each moment the largest tension from it on; of the centre alone where it is the body that is
/// right there.
std::vector<std::pair<double, double>> largest_from(const History& history, bool centre = false) {
  std::vector<std::pair<double, double>> all(history.rows.size());
  double largest_Pa = 0.0;
  for (std::size_t i = history.rows.size(); i-- > 0;) {
    const History::Row& row = history.rows[i];
    largest_Pa = std::max({largest_Pa, row.centre_Pa, centre ? 0.0 : row.tension_Pa});
    all[i] = {row.time_s, largest_Pa};
  }
  return all;
}

}  // namespace

double Judged::pulls_from_Pa(double time_s) const {
  double largest_Pa = 0.0;
  for (const auto& of_treatment : largest_from_s) {
    const auto next = std::lower_bound(
        of_treatment.begin(), of_treatment.end(), time_s, [](const auto& moment, double at_s) {
          return moment.first < at_s;
        });
    if (next != of_treatment.end()) largest_Pa = std::max(largest_Pa, next->second);
  }
  return largest_Pa;
}

Ahead ahead(const History& history,
            const std::optional<History>& of_centre,
            double from_s,
            double to_s,
            Bulk bulk,
            const WaysRequest& request) {
  const double limit_Pa = request.limits.tension.in_Pa();
  const IfHeldHere& held = held_under(bulk, request);
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
                    within(row.surface_Pa, held.surface_Pa);
  }
  for (const History::Row& row : (of_centre ? *of_centre : history).rows) {
    if (row.time_s < from_s || row.time_s > to_s) continue;
    result.pulls_Pa = std::max(result.pulls_Pa, row.centre_Pa);
    result.within = result.within && within(row.centre_Pa, held.centre_Pa);
  }
  return result;
}

std::vector<Bulk> held_to(const WaysRequest& request) {
  std::vector<Bulk> bulks{request.casting.glass.relaxation.bulk};
  for (const Bulk bulk : request.bulks) {
    if (bulk != bulks.front()) bulks.push_back(bulk);
  }
  return bulks;
}

KilnCourse course_from_now(const Program& rest,
                           const FiringSoFar& so_far,
                           const WaysRequest& request) {
  KilnCourse course = with_rest(so_far,
                                rest,
                                request.casting,
                                request.kiln,
                                request.controller.late_on_cooling,
                                request.firing);
  const std::optional<AnnealHold> hold = find_hold(course.followed.air, request.casting.glass);
  const bool later_rest =
      hold && so_far.hold &&
      hold->temperature < so_far.hold->temperature - at_hold_within(hold->temperature);
  if (hold && !later_rest && hold->end_s > so_far.now_s() + 1.0) course.hold = hold;
  return course;
}

Judged judge_course(const KilnCourse& course,
                    const FiringSoFar& so_far,
                    const WaysRequest& request,
                    const Measured& own) {
  Judged judged;
  const auto take = [&](const Measured& measured, Bulk bulk) {
    const Ahead tension = ahead(measured.history,
                                measured.of_permanent,
                                course.counts_from_s,
                                measured.history.end_s(),
                                bulk,
                                request);
    judged.leaves_nm_per_cm =
        std::max(judged.leaves_nm_per_cm, measured.permanent.retardation.in_nm_per_cm());
    judged.pulls_Pa = std::max(judged.pulls_Pa, tension.pulls_Pa);
    judged.keeps_tension = judged.keeps_tension && tension.within;
    judged.largest_from_s.push_back(largest_from(measured.history));
    if (measured.of_permanent) {
      judged.largest_from_s.push_back(largest_from(*measured.of_permanent, true));
    }
  };
  take(own, request.casting.glass.relaxation.bulk);
  for (const Bulk bulk : held_to(request)) {
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

KilnCourse held_here(const FiringSoFar& so_far, const WaysRequest& request, Duration length) {
  Program wait;
  wait.steps.push_back({.target = so_far.kiln, .pace = AsFastAsPossible{}, .hold = length});
  return course_from_now(wait, so_far, request);
}

std::vector<IfHeldHere> if_held_here(const FiringSoFar& so_far, const WaysRequest& request) {
  const Duration length = rules::time_to_even_out(request.casting);
  const KilnCourse course = held_here(so_far, request, length);
  const double until_s = so_far.now_s() + in_s(length);
  std::vector<IfHeldHere> all;
  for (const Bulk bulk : held_to(request)) {
    IfHeldHere held{.bulk = bulk};
    const Measured measured = measure_from(so_far, course, request.casting, request.kiln, bulk);
    for (const History::Row& row : measured.history.rows) {
      if (row.time_s < so_far.now_s() || row.time_s > until_s) continue;
      held.surface_Pa = std::max(held.surface_Pa, row.surface_Pa);
      held.anywhere_Pa = std::max(held.anywhere_Pa, row.tension_Pa);
    }
    for (const History::Row& row : measured.permanent_history().rows) {
      if (row.time_s < so_far.now_s() || row.time_s > until_s) continue;
      held.centre_Pa = std::max(held.centre_Pa, row.centre_Pa);
    }
    held.anywhere_Pa = std::max(held.anywhere_Pa, held.centre_Pa);
    const History& of_centre = measured.permanent_history();
    held.stays_Pa = std::max(0.0, of_centre.at(std::min(until_s, of_centre.end_s())).centre_Pa);
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
    // A controller by rate has to be told one even where there is no way to go.
    Step& first = way.fitted.program.steps.front();
    const bool is_there =
        std::abs((first.target - so_far.kiln).in_K()) <= at_hold_within(first.target).in_K();
    if (is_there && first.hold.count() > 0.0 && std::holds_alternative<Rate>(first.pace)) {
      first.comment = "there: any rate";
    }
    Program started = way.fitted.program;
    if (!started.start) started.start = so_far.kiln;
    way.steps = steps_used(started, request.controller);
    if (way.steps > request.controller.steps) {
      way.fitted.cannot.push_back("it takes more steps than the controller has");
    }
  }
  way.course = course_from_now(way.fitted.program, so_far, request);
  way.measured = measure_own(way.course, so_far, request);
  const Judged judged = judge_course(way.course, so_far, request, way.measured);
  way.leaves_nm_per_cm = judged.leaves_nm_per_cm;
  way.pulls_Pa = judged.pulls_Pa;
  way.keeps_tension = judged.keeps_tension;
  way.keeps_grade = way.leaves_nm_per_cm <= same_grade * request.limits.grade.in_nm_per_cm();
  way.relaxes = relaxes(way, so_far, request);
  way.opening = earliest_opening(request.casting,
                                 way.measured.history,
                                 request.firing.room,
                                 request.limits.tension,
                                 so_far.now_s());
  way.opening.after = way.opening.after - seconds(so_far.now_s());
  return way;
}

bool within(const WayOn& way, const Limits& limits) {
  return way.passes() && way.pulls_Pa <= limits.tension.in_Pa();
}

}  // namespace thickset

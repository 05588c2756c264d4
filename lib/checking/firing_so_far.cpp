#include "checking/firing_so_far.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "checking/in_pieces.h"
#include "kiln/air_parts.h"
#include "units/spoken.h"

namespace thickset {
namespace {

// A firing that begins no hotter than this begins with its log.
constexpr auto cold_start = Temperature::from_C(100.0);

}  // namespace

Error display_not_above_room(Temperature display, Degrees shown) {
  return Error{{.source = "--air"},
               fmt::format("{} is not above the room", spoken(display, shown)),
               "give the room's temperature with --room"};
}

FiringSoFar so_far(const LogCourse& run, const Glass& glass) {
  FiringSoFar result{.air = cut_at(run.course.followed.air, run.end_s),
                     .start = run.course.start,
                     .kiln = run.last,
                     .relaxation = relaxation_settings(run, glass),
                     .hold = run.course.hold,
                     .from_its_start = run.course.start < cold_start,
                     .in_pieces_until_s = run.course.counts_from_s};
  for (AirCurve::Corner& corner : result.air.corners) corner.step = 0;
  if (run.begins_cold && !result.from_its_start) {
    result.taken.push_back(
        "what the firing was before the log began is not known: the glass is taken to have been "
        "even then, and free of stress");
  }
  return result;
}

FiringSoFar so_far(Temperature display, const Kiln& kiln, const Firing& firing, Degrees shown) {
  const Temperature from = std::max(firing.from, display);
  FiringSoFar result{.air = {}, .start = from, .kiln = display};
  result.air.corners.push_back({0.0, from.in_K(), 0});
  const double own_s = in_s(kiln.natural_cooling.time_to_fall(from, display));
  if (!std::isfinite(own_s)) throw display_not_above_room(display, shown);
  if (display < from) add_own_fall(result.air, display, own_s, kiln);
  result.taken.push_back(
      fmt::format("neither log nor program is known: the kiln is taken to have fallen by itself "
                  "from {}, where the glass was even: of all firings from there, the hottest heart",
                  spoken(from, shown)));
  return result;
}

KilnCourse with_rest(const FiringSoFar& so_far,
                     const Program& rest,
                     const Casting& casting,
                     const Kiln& kiln,
                     Controller::LateOnCooling late,
                     const Firing& firing) {
  Program from_now = rest;
  from_now.start.reset();
  if (rest.steps.empty()) from_now.steps.push_back({.target = so_far.kiln, .pace = minutes(1.0)});
  KilnCourse course{
      .followed = follow(with_fall_to_room(from_now, casting, firing), kiln, late, so_far.kiln),
      .start = so_far.start,
      .steps = from_now.steps.size() + 1,
      .hold = so_far.hold,
      .counts_from_s = so_far.now_s()};
  AirCurve whole = so_far.air;
  for (const AirCurve::Corner& corner : course.followed.air.corners) {
    whole.corners.push_back({so_far.now_s() + corner.time_s, corner.T_K, corner.step + 1});
  }
  for (FollowedProgram::Late& late_step : course.followed.late) ++late_step.step;
  course.followed.air = std::move(whole);
  course.counts_from_s =
      std::max(course.counts_from_s, in_pieces_until_s(course.followed.air, casting.glass));
  return course;
}

KilnCourse with_elements_off(const FiringSoFar& so_far,
                             const KilnCourse& course,
                             Duration from_now,
                             const Casting& casting,
                             const Kiln& kiln,
                             const Firing& firing) {
  KilnCourse changed = course;
  const double off_s = so_far.now_s() + in_s(from_now);
  changed.followed.air = cut_at(course.followed.air, off_s);
  const Temperature at = Temperature::from_K(changed.followed.air.corners.back().T_K);
  const Program fall{.start = at, .steps = {fall_to_room(at, casting, firing)}};
  const AirCurve after = follow(fall, kiln, Controller::LateOnCooling::goes_on, at).air;
  for (std::size_t i = 1; i < after.corners.size(); ++i) {
    changed.followed.air.corners.push_back(
        {off_s + after.corners[i].time_s, after.corners[i].T_K, static_cast<int>(course.steps)});
  }
  return changed;
}

Measured measure_from(const FiringSoFar& so_far,
                      const KilnCourse& course,
                      const Casting& casting,
                      const Kiln& kiln,
                      Bulk bulk) {
  return measure(casting, kiln, course, {.relaxation = so_far.relaxation, .bulk = bulk});
}

}  // namespace thickset

#include "planning/way_in_doubt.h"

#include <algorithm>
#include <cmath>

namespace thickset {
namespace {

constexpr double no_worse = 1.001;  // than the way itself, relative

/// Whether a course that leaves the way at some moment keeps the limits, or does no worse than the
/// way. What the glass is pulled by before that, as it evens out, is no measure of what comes
/// after.
bool keeps(const Judged& judged, const Judged& way, const Limits& limits, double leaves_it_at_s) {
  const double grade = std::max(limits.grade.in_nm_per_cm(), no_worse * way.leaves_nm_per_cm);
  const double tension_Pa =
      std::max(limits.tension.in_Pa(), no_worse * way.pulls_from_Pa(leaves_it_at_s));
  return judged.leaves_nm_per_cm <= grade && judged.pulls_from_Pa(leaves_it_at_s) <= tension_Pa;
}

/// When the last step of the way ends, in whole minutes from now.
double way_ends_min(const WayOn& way, const FiringSoFar& so_far) {
  double end_min = 0.0;
  for (const AirCurve::Corner& corner : way.course.followed.air.corners) {
    if (corner.step < static_cast<int>(way.course.steps)) {
      end_min = std::ceil((corner.time_s - so_far.now_s()) / 60.0);
    }
  }
  return end_min;
}

}  // namespace

std::vector<Judged> judged_in_doubt(const KilnCourse& course,
                                    const FiringSoFar& so_far,
                                    const WaysRequest& request,
                                    const InDoubt& doubt) {
  std::vector<Judged> all;
  for (const InDoubt::Case& one : doubt.cases()) {
    const WaysRequest of_case{.casting = one.casting,
                              .kiln = request.kiln,
                              .controller = request.controller,
                              .firing = request.firing,
                              .limits = request.limits,
                              .bulks = request.bulks,
                              .hold_relaxes = request.hold_relaxes,
                              .hold_was_full = request.hold_was_full,
                              .if_held_here = request.if_held_here};
    const KilnCourse as_in_case = InDoubt::as_in(one, course);
    all.push_back(
        judge_course(as_in_case, so_far, of_case, measure_own(as_in_case, so_far, of_case)));
  }
  return all;
}

std::optional<Duration> elements_off_after(const WayOn& way,
                                           const FiringSoFar& so_far,
                                           const WaysRequest& request,
                                           const InDoubt& doubt) {
  const std::vector<Judged> of_way = judged_in_doubt(way.course, so_far, request, doubt);
  const auto passes = [&](double after_min) {
    const KilnCourse course = with_elements_off(
        so_far, way.course, minutes(after_min), request.casting, request.kiln, request.firing);
    const std::vector<Judged> judged = judged_in_doubt(course, so_far, request, doubt);
    for (std::size_t i = 0; i < judged.size(); ++i) {
      const double off_s = so_far.now_s() + 60.0 * after_min;
      if (!keeps(judged[i], of_way[i], request.limits, off_s)) return false;
    }
    return true;
  };
  if (passes(0.0)) return Duration{0.0};
  double early_min = 0.0;
  double late_min = way_ends_min(way, so_far);
  if (!passes(late_min)) return std::nullopt;
  while (late_min - early_min > 1.0) {
    const double middle_min = std::floor(0.5 * (early_min + late_min));
    (passes(middle_min) ? late_min : early_min) = middle_min;
  }
  return minutes(late_min);
}

}  // namespace thickset

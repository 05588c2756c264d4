#include "checking/against_plan.h"

#include <algorithm>
#include <cmath>

namespace thickset {
namespace {

/// When a curve last passes a temperature on its way down; nullopt where it never does.
std::optional<double> last_fall_through_s(const AirCurve& air, double T_K, double until_s) {
  for (std::size_t i = air.corners.size(); i-- > 1;) {
    const auto& from = air.corners[i - 1];
    const auto& to = air.corners[i];
    if (from.time_s >= until_s || !(from.T_K >= T_K && to.T_K < T_K)) continue;
    return from.time_s + (to.time_s - from.time_s) * (from.T_K - T_K) / (from.T_K - to.T_K);
  }
  return std::nullopt;
}

double start_of_fall_s(const std::optional<AnnealHold>& hold,
                       const AirCurve& air,
                       double annealing_K,
                       double until_s) {
  if (hold) return hold->end_s;
  return last_fall_through_s(air, annealing_K, until_s).value_or(0.0);
}

}  // namespace

AgainstPlan against_plan(const CheckResult& planned,
                         const LogCourse& run,
                         const Polyline& line,
                         const Glass& glass) {
  AgainstPlan result{.planned = planned, .rates = {}};
  const AirCurve& meant = planned.measured.followed.air;
  const double meant_end_s = in_s(planned.program_time);
  const AirCurve& was = run.course.followed.air;
  const double annealing_K = glass.annealing_point.value.in_K();
  const bool both_hold = planned.measured.hold && run.course.hold;
  const std::optional<AnnealHold> none;
  const double meant_fall_s =
      start_of_fall_s(both_hold ? planned.measured.hold : none, meant, annealing_K, meant_end_s);
  const double fall_s =
      start_of_fall_s(both_hold ? run.course.hold : none, was, annealing_K, run.end_s);
  result.later_s = fall_s - meant_fall_s;

  const auto compare = [&](double time_s) {
    if (time_s < fall_s || time_s > run.end_s || time_s - result.later_s > meant_end_s) return;
    const double apart_K = line.at_K(time_s) - meant.at_K(time_s - result.later_s);
    if (apart_K > result.above_K) {
      result.above_K = apart_K;
      result.above_at_s = time_s;
    }
    if (-apart_K > result.below_K) {
      result.below_K = -apart_K;
      result.below_at_s = time_s;
    }
  };
  // Between corners of both the difference is a straight line.
  for (const auto& corner : line.corners) compare(corner.time_s);
  for (const auto& corner : meant.corners) compare(corner.time_s + result.later_s);

  for (const LogStretch& stretch : run.stretches) {
    std::optional<Rate> rate;
    if (stretch.falls() && 0.5 * (stretch.start_s + stretch.end_s) >= fall_s) {
      const auto from_s = last_fall_through_s(meant, stretch.from.in_K(), meant_end_s);
      const auto to_s = last_fall_through_s(meant, stretch.to.in_K(), meant_end_s);
      const double distance_K = (stretch.from - stretch.to).in_K();
      constexpr double telling_K = 5.0;
      if (from_s && to_s && *to_s > *from_s && distance_K > telling_K) {
        rate = Rate::from_K_per_s(distance_K / (*to_s - *from_s));
      }
    }
    result.rates.push_back(rate);
  }
  return result;
}

}  // namespace thickset

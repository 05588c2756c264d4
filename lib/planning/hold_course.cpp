#include "planning/hold_course.h"

#include <algorithm>
#include <cmath>

#include "checking/past.h"
#include "checking/rules.h"
#include "geometry/equivalent_slab.h"
#include "planning/stages.h"
#include "simulation/simulate.h"

namespace thickset {
namespace {

/// When a positive value of a history's rows has come down to a limit for good, from not_before_s
/// on; nullopt where it has not at the end.
template <class Value>
std::optional<double> time_below_s(const History& history,
                                   double not_before_s,
                                   double limit,
                                   Value value) {
  constexpr double smallest_share = 1e-6;  // of the limit, for the logarithm of a value of nothing
  if (!(value(history.rows.back()) <= limit)) return std::nullopt;
  std::size_t above = history.rows.size() - 1;  // the last row over the limit
  while (above > 0 && value(history.rows[above]) <= limit) --above;
  const History::Row& before = history.rows[above];
  const double v0 = value(before);
  if (v0 <= limit) return not_before_s;
  const History::Row& after = history.rows[above + 1];
  const double v1 = std::max(value(after), smallest_share * limit);
  const double share = std::log(v0 / limit) / std::log(v0 / v1);
  return std::max(not_before_s, before.time_s + share * (after.time_s - before.time_s));
}

double kiln_arrives_s(const AirCurve& air, double hold_K) {
  double arrives_s = air.corners.front().time_s;
  for (std::size_t i = 1; i < air.corners.size(); ++i) {
    if (std::abs(air.corners[i - 1].T_K - hold_K) > 1e-6) arrives_s = air.corners[i].time_s;
  }
  return arrives_s;
}

/// What the setting rate will do to this casting, as the hold's simulation sees it.
struct Later {
  double difference_K;
  double permanent_Pa;
};

Later later_under(const Casting& casting, Rate setting_rate, Temperature hold) {
  const Shape shape = casting.governing_shape();
  const double difference_K = setting_rate.in_K_per_s() * poisson_maximum_m2(casting) /
                              casting.glass.diffusivity_m2_per_s(hold.in_K());
  // A shape that is simulated as the slab of its slowest mode has the stress of that slab.
  const bool as_itself = std::holds_alternative<Slab>(shape) ||
                         std::holds_alternative<Rod>(shape) || std::holds_alternative<Ball>(shape);
  const EquivalentSlabs slabs = equivalent_slabs(casting);
  const Length slab = as_itself ? slabs.permanent_tension : slabs.slowest_mode;
  return {difference_K, estimate_permanent_Pa(casting.glass, slab, setting_rate)};
}

/// A fall and a hold in ever longer parts, so that the simulation stops to look within the hold.
Program fall_and_hold(Temperature hold, Duration length) {
  constexpr auto first_look = minutes(10.0);
  constexpr double later_each_time = 1.2;
  Program program;
  program.steps.push_back({.target = hold, .pace = AsFastAsPossible{}, .hold = first_look});
  for (Duration so_far = first_look; so_far < length; so_far *= later_each_time) {
    program.steps.push_back(
        {.target = hold, .pace = (later_each_time - 1.0) * so_far, .hold = Duration{0.0}});
  }
  return program;
}

/// The course as far as a hold of this length shows it; nullopt: not relaxed at its end.
std::optional<HoldCourse> course_within(Duration length,
                                        const Casting& casting,
                                        const Kiln& kiln,
                                        Temperature start,
                                        Temperature hold,
                                        const Later& later) {
  const FollowedProgram followed =
      follow(fall_and_hold(hold, length), kiln, Controller::LateOnCooling::waits, start);
  const History history = simulate(casting, kiln, followed.air, start, Respect::slowest_mode);
  const double hold_K = hold.in_K();
  const double start_s = kiln_arrives_s(followed.air, hold_K);

  const std::optional<double> arrived_s =
      time_below_s(history, start_s, arrival_tol_K, [&](const History::Row& row) {
        return std::abs(row.centre_K - hold_K);
      });
  if (!arrived_s) return std::nullopt;
  const std::optional<double> even_s = time_below_s(
      history, *arrived_s, evening_share * later.difference_K, [](const History::Row& row) {
        return std::abs(row.centre_K - row.surface_K);
      });
  if (!even_s) return std::nullopt;
  const std::optional<double> stress_left_s = time_below_s(
      history, *even_s, relaxed_share * later.permanent_Pa, [&](const History::Row& row) {
        return left_by_past_Pa(casting.glass, row);
      });
  const std::optional<double> in_equilibrium_s =
      time_below_s(history, *even_s, equilibrium_tol_K, off_equilibrium_K);
  if (!stress_left_s || !in_equilibrium_s) return std::nullopt;

  HoldCourse course{.arrived = seconds(*arrived_s - start_s),
                    .even = seconds(*even_s - start_s),
                    .relaxed = seconds(std::max(*stress_left_s, *in_equilibrium_s) - start_s)};
  for (const History::Row& row : history.rows) {
    if (row.time_s > start_s) break;
    course.behind_on_arrival = TemperatureDifference::from_K(row.centre_K - row.kiln_K);
  }
  return course;
}

}  // namespace

std::optional<HoldCourse> hold_course(const Casting& casting,
                                      const Kiln& kiln,
                                      Temperature start,
                                      Temperature hold,
                                      Rate setting_rate) {
  const Later later = later_under(casting, setting_rate, hold);
  const Duration evens_out = rules::time_to_even_out(casting);
  const Duration longest = evens_out + longest_relaxing;
  for (Duration length = evens_out;; length = std::min(2.0 * length, longest)) {
    std::optional<HoldCourse> course = course_within(length, casting, kiln, start, hold, later);
    if (course && course->relaxed - course->even > longest_relaxing) return std::nullopt;
    if (course || length >= longest) return course;
  }
}

}  // namespace thickset

#include "planning/nearest_tail.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include <fmt/format.h>

#include "planning/tail_planner.h"

namespace thickset {
namespace {

constexpr double most_easing = 200.0;  // of a limit
constexpr double just_above = 1.02;    // of the least that there can be, to begin with
constexpr double near_enough = 1.03;
constexpr double easier_each_time = 1.6;
constexpr int halvings = 4;  // of the bracket: to 3 % of the limit

/// The tail for the least limits, raised by one factor as `raised` says, for which there is
/// one; checked against those asked for.
///
/// least: a factor below which there is none.
std::optional<Tail> nearest_by(const std::function<Limits(Limits, double)>& raised,
                               double least,
                               std::span<const Casting> castings,
                               const Kiln& kiln,
                               const Controller& controller,
                               const TailRequest& request) {
  const auto easier_by = [&](double factor) {
    TailRequest easier = request;
    easier.all_prices = false;
    easier.limits = raised(easier.limits, factor);
    easier.progress = {};
    return easier;
  };
  const auto can_at = [&](double factor) {
    if (request.progress) request.progress("no tail keeps the limits; looking for the nearest");
    const TailRequest easier = easier_by(factor);
    return TailPlanner{castings, kiln, controller, easier}.can_plan();
  };
  double fails = std::max(least, 1.0);
  double passes = fails * just_above;
  while (!can_at(passes)) {
    if (passes >= most_easing) return std::nullopt;
    fails = passes;
    passes *= easier_each_time;
  }
  for (int i = 0; i < halvings && passes > near_enough * fails; ++i) {
    const double middle = std::sqrt(fails * passes);
    (can_at(middle) ? passes : fails) = middle;
  }
  const TailRequest easier = easier_by(passes);
  const TailPlanner planner{castings, kiln, controller, easier};
  std::optional<Tail> nearest = planner.plan();
  if (nearest) planner.check_as_keyed(*nearest, request.limits);
  return nearest;
}

}  // namespace

Tail nearest_tail(std::span<const Casting> castings,
                  const Kiln& kiln,
                  const Controller& controller,
                  TailRequest request) {
  const TailPlanner planner{castings, kiln, controller, request};
  request.hold_temperature = planner.hold_temperature();  // chosen once for all
  const auto [left, tension] = planner.least();
  if (std::optional<Tail> tail =
          nearest_by(with_grade_times, left, castings, kiln, controller, request)) {
    tail->cannot.push_back(
        fmt::format("{:.3g} nm/cm cannot be kept; the least found that can is {:.3g} nm/cm",
                    request.limits.grade.in_nm_per_cm(),
                    tail->check.measured.permanent.retardation.in_nm_per_cm()));
    return *tail;
  }
  if (std::optional<Tail> tail =
          nearest_by(with_tension_times, tension, castings, kiln, controller, request)) {
    tail->cannot.push_back(
        fmt::format("{:.3g} MPa of tension cannot be kept; the least found that can is {:.3g} MPa",
                    request.limits.tension.in_MPa(),
                    tail->check.measured.peak_tension_Pa * 1e-6));
    return *tail;
  }
  return TailPlanner{castings, kiln, controller, request}.as_nearly_as_can_be_keyed();
}

}  // namespace thickset

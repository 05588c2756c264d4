#include "planning/hold.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/rules.h"
#include "relaxation/relaxation_time.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double sags_above_annealing_K = 150.0;  // softening point where a glass's own is unknown
constexpr auto longest_relaxing = hours(30.0 * 24.0);

void refuse_nonsense(const Glass& glass, Temperature temperature) {
  const double softening_C = glass.softening_point
                                 ? glass.softening_point->value.in_C()
                                 : glass.annealing_point.value.in_C() + sags_above_annealing_K;
  const double asked_C = temperature.in_C();
  if (asked_C > softening_C) {
    const double if_F_C = Temperature::from_F(asked_C).in_C();
    throw Error{{"hold temperature"},
                fmt::format("{:.0f} C is above the softening point of this glass ({}{:.0f} C)",
                            asked_C,
                            glass.softening_point ? "" : "about ",
                            softening_C),
                fmt::format("did you mean {:.0f} F ({:.0f} C)?", asked_C, if_F_C)};
  }
  const Duration relaxing = relaxation::time_to_relax(glass, temperature);
  if (!(relaxing < longest_relaxing)) {
    throw Error{
        {"hold temperature"},
        fmt::format("at {:.0f} C this glass would take over 30 days to relax (strain point "
                    "{:.0f} C)",
                    asked_C,
                    glass.strain_point.value.in_C()),
        fmt::format("hold at {:.0f} C or above", std::ceil(rules::hold_floor(glass).in_C()))};
  }
}

/// A tail falls to its hold. From below, the glass would be heated cold, which pulls its core.
void refuse_start_below(Temperature hold, Temperature start, Degrees shown) {
  if (start >= hold) return;
  throw Error{{"start"},
              fmt::format("the firing starts at {}, below the hold at {}",
                          spoken(start, shown),
                          spoken(hold, shown)),
              "a tail starts from the process temperature: give that one"};
}

/// When |value| of a history's rows has come down to a limit for good, from not_before_s on.
template <class Value>
double time_below_s(const History& history, double not_before_s, double limit, Value value) {
  double below_s = not_before_s;
  for (std::size_t i = 1; i < history.rows.size(); ++i) {
    const History::Row& before = history.rows[i - 1];
    const History::Row& after = history.rows[i];
    const double v0 = value(before);
    const double v1 = value(after);
    if (after.time_s <= not_before_s || v0 <= limit) continue;
    const double share = v1 < limit ? (v0 - limit) / (v0 - v1) : 1.0;
    below_s = std::max(below_s, before.time_s + share * (after.time_s - before.time_s));
  }
  return below_s;
}

}  // namespace

Hold size_hold(const Casting& casting,
               const Kiln& kiln,
               const Firing& firing,
               Rate setting_rate,
               std::optional<Temperature> fixed_temperature,
               Degrees shown) {
  const Glass& glass = casting.glass;
  const Shape shape = casting.governing_shape();
  Hold hold{.temperature = fixed_temperature.value_or(glass.annealing_point.value)};
  refuse_nonsense(glass, hold.temperature);
  refuse_start_below(hold.temperature, firing.from, shown);
  hold.sensor_tolerance = sensor_tolerance(hold.temperature);
  const double hold_K = hold.temperature.in_K();

  // The fall to the hold and a hold long enough to see the glass even out.
  Program fall;
  fall.steps.push_back({.target = hold.temperature,
                        .pace = AsFastAsPossible{},
                        .hold = rules::time_to_even_out(shape)});
  const FollowedProgram followed =
      follow(fall, kiln, Controller::LateOnCooling::waits, firing.from);
  const auto& corners = followed.air.corners;
  double kiln_arrives_s = corners.front().time_s;
  for (std::size_t i = 1; i < corners.size(); ++i) {
    if (std::abs(corners[i - 1].T_K - hold_K) > 1e-6) kiln_arrives_s = corners[i].time_s;
  }
  const History history = simulate(casting, kiln, followed.air, firing.from, Respect::slowest_mode);

  const double arrived_s =
      time_below_s(history, kiln_arrives_s, arrival_tol_K, [&](const History::Row& row) {
        return std::abs(row.centre_K - hold_K);
      });
  const double later_K =
      setting_rate.in_K_per_s() * poisson_maximum_m2(shape) / glass.diffusivity_m2_per_s(hold_K);
  const double even_s =
      time_below_s(history, kiln_arrives_s, evening_share * later_K, [](const History::Row& row) {
        return std::abs(row.centre_K - row.surface_K);
      });
  for (const History::Row& row : history.rows) {
    if (row.time_s > kiln_arrives_s) break;
    hold.behind_on_arrival = TemperatureDifference::from_K(row.centre_K - row.kiln_K);
  }
  hold.arriving = seconds(arrived_s - kiln_arrives_s);
  hold.evening = seconds(std::max(even_s - arrived_s, 0.0));
  hold.relaxing = relaxation::time_to_relax(glass, hold.temperature - hold.sensor_tolerance);
  hold.relaxing_if_sensor_true = relaxation::time_to_relax(glass, hold.temperature);
  const double whole_min = std::ceil(in_min(hold.total()));
  hold.margin = minutes(whole_min - in_min(hold.total()));

  if (hold.temperature < rules::hold_floor(glass)) {
    hold.notes.push_back(
        fmt::format("{} is below {}, the strain point plus {} and the sensor's tolerance: used "
                    "only because you fixed it",
                    spoken(hold.temperature, shown),
                    spoken(whole_degree_above(rules::hold_floor(glass), shown), shown),
                    spoken(rules::hold_above_strain, shown)));
  }
  if (hold.temperature > glass.annealing_point.value + rules::hold_above_annealing) {
    hold.notes.push_back(fmt::format("{} is far above the annealing point ({}): the piece may sag",
                                     spoken(hold.temperature, shown),
                                     spoken(glass.annealing_point.value, shown)));
  }
  return hold;
}

}  // namespace thickset

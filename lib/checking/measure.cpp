#include "checking/measure.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "checking/in_pieces.h"
#include "checking/past.h"
#include "checking/rules.h"
#include "stress/permanent_estimate.h"
#include "stress/retardation.h"

namespace thickset {
namespace {

// The kiln is taken to fall to this far above the room by itself, then to stay.
constexpr auto above_room = TemperatureDifference::from_K(5.0);
constexpr double hold_moves_less_K = 0.25;  // a stretch that moves less is a hold
constexpr auto search_beyond = TemperatureDifference::from_K(60.0);

/// What the past has left when a hold ends, against the permanent stress of the whole run.
void judge(AnnealHold& hold, const History& history, const Glass& glass, double permanent_Pa) {
  const History::Row& end = history.at(hold.end_s);
  hold.left_Pa = left_by_past_Pa(glass, end);
  hold.off_equilibrium_K = off_equilibrium_K(end);
  hold.relaxes = has_relaxed(glass, end, permanent_Pa);
}

double window_start_s(const std::optional<AnnealHold>& hold,
                      const History& history,
                      const Glass& glass) {
  const double annealing_K = glass.annealing_point.value.in_K();
  double start_s = history.rows.front().time_s;
  for (const History::Row& row : history.rows) {
    if (row.mean_K > annealing_K) start_s = row.time_s;
  }
  if (hold && hold->relaxes) start_s = std::max(start_s, hold->end_s);
  return start_s;
}

/// What is left in the casting at the end of its history.
void read_permanent(const History& history,
                    double stress_optical_per_Pa,
                    PermanentStress& permanent) {
  const History::Row& end = history.rows.back();
  permanent.mid_Pa =
      *std::max_element(history.profile.stress_Pa.begin(), history.profile.stress_Pa.end());
  permanent.mid_Pa = std::max(permanent.mid_Pa, end.centre_Pa);
  permanent.surface_Pa = end.surface_Pa;
  permanent.retardation = stress::retardation(stress_optical_per_Pa, permanent.mid_Pa);
  permanent.surface_fictive_K = end.surface_fictive_K;
  permanent.centre_fictive_K = end.centre_fictive_K;
  permanent.net_stress_Pa = history.net_stress_Pa;
  permanent.uneven_K = end.centre_K - end.surface_K;
}

/// Scales the steps' estimates so that the largest is the computed retardation.
void share_out(Measured& measured) {
  double largest = 0.0;
  for (const Measured::OfStep& step : measured.steps) {
    largest = std::max(largest, step.retardation_nm_per_cm);
  }
  if (largest <= 0.0) return;
  const double scale = measured.permanent.retardation.in_nm_per_cm() / largest;
  for (Measured::OfStep& step : measured.steps) step.retardation_nm_per_cm *= scale;
}

/// Heating pulls at the centre, for which the body whose permanent stress counts is right.
void count_heating(const History& of_centre, double counts_from_s, Measured& measured) {
  for (const History::Row& row : of_centre.rows) {
    if (row.time_s < counts_from_s || row.surface_K <= row.centre_K) continue;
    const int step = std::max(row.step, 0);
    Measured::OfStep& of_step = measured.steps[static_cast<std::size_t>(step)];
    of_step.tension_Pa = std::max(of_step.tension_Pa, row.centre_Pa);
    if (row.centre_Pa > measured.peak_tension_Pa) {
      measured.peak_tension_Pa = row.centre_Pa;
      measured.peak_tension_step = step;
    }
  }
}

}  // namespace

double permanent_by_simulated(const Shape& shape) {
  if (std::holds_alternative<Slab>(shape) || std::holds_alternative<Rod>(shape) ||
      std::holds_alternative<Ball>(shape)) {
    return 1.0;  // simulated as they are
  }
  const EquivalentSlabs equivalents = equivalent_slabs(shape);
  const double ratio = equivalents.permanent_tension.in_m() / equivalents.steady_difference.in_m();
  return ratio * ratio;
}

HoldRange hold_range(const Glass& glass) {
  return {glass.strain_point.value - search_beyond, glass.annealing_point.value + search_beyond};
}

std::optional<AnnealHold> find_hold(const AirCurve& air, const Glass& glass) {
  const double strain_K = glass.strain_point.value.in_K();
  const HoldRange range = hold_range(glass);
  std::optional<AnnealHold> warm;  // the last at or above the strain point
  std::optional<AnnealHold> cool;  // the longest of those just below it
  for (std::size_t i = 1; i < air.corners.size(); ++i) {
    const auto& from = air.corners[i - 1];
    const auto& to = air.corners[i];
    if (to.time_s <= from.time_s || std::abs(to.T_K - from.T_K) > hold_moves_less_K) continue;
    const AnnealHold hold{.step = to.step,
                          .temperature = Temperature::from_K(to.T_K),
                          .start_s = from.time_s,
                          .end_s = to.time_s,
                          .left_Pa = 0.0,
                          .off_equilibrium_K = 0.0,
                          .relaxes = false};
    if (to.T_K >= strain_K && to.T_K <= range.highest.in_K()) {
      const bool continues = warm && warm->end_s == from.time_s &&
                             std::abs(warm->temperature.in_K() - to.T_K) <= hold_moves_less_K;
      const double start_s = continues ? warm->start_s : from.time_s;
      warm = hold;
      warm->start_s = start_s;
    } else if (to.T_K < strain_K && to.T_K >= range.lowest.in_K()) {
      const double length_s = cool ? cool->end_s - cool->start_s : 0.0;
      if (to.time_s - from.time_s > length_s) cool = hold;
    }
  }
  return warm ? warm : cool;
}

Step fall_to_room(Temperature last, const Casting& casting, const Firing& firing) {
  const Temperature end = firing.room + above_room;
  return {.target = std::min(end, last),
          .pace = AsFastAsPossible{},
          .hold = rules::time_to_even_out(casting)};
}

Program with_fall_to_room(const Program& program, const Casting& casting, const Firing& firing) {
  Program whole = program;
  whole.steps.push_back(fall_to_room(program.steps.back().target, casting, firing));
  return whole;
}

Temperature start_of(const Program& program, const Firing& firing) {
  return program.start.value_or(firing.from);
}

Measured measure(const Casting& casting,
                 const Kiln& kiln,
                 Controller::LateOnCooling late,
                 const Program& program,
                 const Firing& firing,
                 const SimulationSettings& settings) {
  const Temperature start = start_of(program, firing);
  FollowedProgram followed = follow(with_fall_to_room(program, casting, firing), kiln, late, start);
  const std::optional<AnnealHold> hold = find_hold(followed.air, casting.glass);
  const double in_pieces_s = in_pieces_until_s(followed.air, casting.glass);
  return measure(casting,
                 kiln,
                 {.followed = std::move(followed),
                  .start = start,
                  .steps = program.steps.size(),
                  .hold = hold,
                  .counts_from_s = in_pieces_s},
                 settings);
}

Measured measure(const Casting& casting,
                 const Kiln& kiln,
                 const KilnCourse& course,
                 const SimulationSettings& settings) {
  const Glass& glass = casting.glass;
  const Temperature start = course.start;
  Measured result;
  result.followed = course.followed;
  result.counts_from_s = course.counts_from_s;
  result.history =
      simulate(casting, kiln, result.followed.air, start, Respect::steady_difference, settings);

  const double permanent_ratio = permanent_by_simulated(casting.governing_shape());
  const double stress_optical_per_Pa = glass.stress_optical_per_Pa.value;
  if (permanent_ratio != 1.0) {
    result.of_permanent =
        simulate(casting, kiln, result.followed.air, start, Respect::permanent_tension, settings);
  }
  const History& decisive = result.permanent_history();
  read_permanent(decisive, stress_optical_per_Pa, result.permanent);
  result.profile = decisive.profile;
  result.hold = course.hold;
  if (result.hold) judge(*result.hold, decisive, glass, result.permanent.mid_Pa);
  result.window_start_s = window_start_s(result.hold, result.history, glass);

  const double window_bottom_K = glass.strain_point.value.in_K() - stress::setting_below_strain_K;
  const double factor =
      stress::structural_factor(glass.liquid_expansion_per_K.value, glass.expansion_per_K.value);
  result.permanent.estimate_factor = factor;
  result.steps.resize(course.steps + 1);
  double last_time_s = result.history.rows.front().time_s;
  int last_step = -1;
  for (const History::Row& row : result.history.rows) {
    const int step = std::max(row.step, 0);
    Measured::OfStep& of_step = result.steps[static_cast<std::size_t>(step)];
    if (step != last_step) of_step.start_s = last_time_s;
    of_step.end_s = row.time_s;
    last_step = step;
    last_time_s = row.time_s;
    of_step.largest_difference_K = std::max(of_step.largest_difference_K, row.largest_difference_K);
    const bool counts = row.time_s >= course.counts_from_s;
    if (counts) of_step.tension_Pa = std::max(of_step.tension_Pa, row.tension_Pa);
    if (counts && row.tension_Pa > result.peak_tension_Pa) {
      result.peak_tension_Pa = row.tension_Pa;
      result.peak_tension_step = step;
    }
    if (row.time_s <= result.window_start_s) continue;
    // Only glass hotter outside than inside would set the other way round; cooling is what stays.
    if (row.centre_K > window_bottom_K && row.elastic_surface_Pa > 0.0) {
      const double classical_mid_Pa = permanent_ratio * row.elastic_compression_Pa;
      of_step.retardation_nm_per_cm = std::max(
          of_step.retardation_nm_per_cm,
          stress::retardation(stress_optical_per_Pa, factor * classical_mid_Pa).in_nm_per_cm());
      if (classical_mid_Pa > result.permanent.classical_mid_Pa) {
        result.permanent.classical_mid_Pa = classical_mid_Pa;
        result.permanent.step = step;
      }
    }
  }
  if (result.of_permanent) count_heating(*result.of_permanent, course.counts_from_s, result);
  share_out(result);
  return result;
}

}  // namespace thickset

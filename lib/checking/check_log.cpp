#include "checking/check_log.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "checking/against_plan.h"
#include "checking/in_pieces.h"
#include "checking/limit_findings.h"
#include "checking/notes.h"
#include "checking/opening.h"
#include "checking/remedy.h"
#include "schedule/log_clock.h"
#include "stress/permanent_estimate.h"
#include "units/spoken.h"

namespace thickset {
namespace {

// What would have passed is looked for on a line of fewer corners.
constexpr double remedy_tolerance_K = 1.0;
// On a line of more corners some hundred simulations would take minutes.
constexpr std::size_t most_remedy_corners = 2000;
// A log may end when the kiln is opened; hotter than this above the room it was not.
constexpr double warm_above_room_K = 25.0;
// Tension that was there by this share when a stretch began comes from before it.
constexpr double lingering_share = 0.9;

std::string rate_text(Rate rate, Degrees shown) {
  const double value = in_degrees_per_h(rate, shown);
  return fmt::format("{:.{}f} °{}/h", value, value < 9.95 ? 1 : 0, letter(shown));
}

Finding note(Finding::Kind kind, std::string text) {
  return {.kind = kind, .text = std::move(text)};
}

/// What is said of a log's end and its beginning.
std::vector<Finding> log_notes(const Casting& casting,
                               const Kiln& kiln,
                               const Firing& firing,
                               const FiringLog& log,
                               const Polyline& line,
                               const LogCheck& check,
                               Degrees shown) {
  const Glass& glass = casting.glass;
  const LogCourse& run = check.run;
  std::vector<Finding> notes;
  if (check.ends_warm) {
    const Temperature centre = Temperature::from_K(check.centre_at_end_K);
    const double sets_K = glass.strain_point.value.in_K() - stress::setting_below_strain_K;
    notes.push_back(note(
        Finding::Kind::log_ends_warm,
        fmt::format("the log ends at {} with the kiln at {} and the slowest glass, computed, at "
                    "{}: from there on the kiln is assumed to fall by itself ({}){}",
                    moment(log.clock, run.end_s),
                    spoken(run.last, shown),
                    spoken(centre, shown),
                    kiln.title,
                    centre.in_K() > sets_K
                        ? "; stress was still being set: what stays depends on that fall"
                        : "; what stays was set before, the tension of that fall is to come")));
  }
  if (run.begins_cold) {
    notes.push_back(note(
        Finding::Kind::outside_model,
        run.melted
            ? fmt::format("tension before {} does not count: the kiln then was at {} or above, "
                          "where glass flows into its mould; on the way up it was in pieces",
                          moment(log.clock, run.course.counts_from_s),
                          spoken(glass.annealing_point.value + melts_above_annealing, shown))
            : fmt::format("the log begins at {}, below the strain point: the piece is taken as "
                          "whole, even, free of stress, and its structure as annealed at {}",
                          spoken(run.course.start, shown),
                          spoken(glass.strain_point.value, shown))));
  } else {
    notes.push_back(note(Finding::Kind::outside_model,
                         fmt::format("the glass is taken as even and relaxed at the log's first "
                                     "reading, {}",
                                     spoken(run.course.start, shown))));
  }
  if (!run.course.hold && holds_in_other_degrees(line, log.degrees, glass)) {
    const Degrees other = log.degrees == Degrees::celsius ? Degrees::fahrenheit : Degrees::celsius;
    notes.push_back(
        note(Finding::Kind::notation_slip,
             fmt::format("read as {} the log would have a hold near the annealing point "
                         "({}): is the {} in its header right?",
                         letter(other),
                         spoken(glass.annealing_point.value, shown),
                         letter(log.degrees))));
  }
  // The room of the log, where it comes down to it.
  if (run.last.in_K() < firing.room.in_K() - 5.0) {
    notes.push_back(note(Finding::Kind::outside_model,
                         fmt::format("the log ends at {}, below the room's {}: give the room's "
                                     "temperature with --room",
                                     spoken(run.last, shown),
                                     spoken(firing.room, shown))));
  }
  const double sets_from_K = glass.annealing_point.value.in_K();
  const double sets_to_K = glass.strain_point.value.in_K() - stress::setting_below_strain_K;
  if (log.longest_gap_s > 0.0) {
    for (std::size_t i = 1; i < log.time_s.size(); ++i) {
      const double gap_s = log.time_s[i] - log.time_s[i - 1];
      const double high_K = std::max(log.T_K[i], log.T_K[i - 1]);
      const double low_K = std::min(log.T_K[i], log.T_K[i - 1]);
      if (gap_s < log.longest_gap_s || high_K < sets_to_K || low_K > sets_from_K) continue;
      notes.push_back(
          note(Finding::Kind::outside_model,
               fmt::format("the gap of {:.0f} min at {} lies where stress is set: between its ends "
                           "the kiln may have fallen and been heated again, unseen",
                           gap_s / 60.0,
                           moment(log.clock, log.time_s[i - 1]))));
      break;
    }
  }
  return notes;
}

std::vector<StepResult> steps_of(const LogCourse& run,
                                 const Measured& measured,
                                 const Limits& limits) {
  std::vector<StepResult> steps;
  for (std::size_t i = 0; i < run.stretches.size(); ++i) {
    const LogStretch& stretch = run.stretches[i];
    const Measured::OfStep& of_step = measured.steps[i];
    const NearestLimit nearest = nearest_limit(of_step, limits);
    steps.push_back({.from = stretch.from,
                     .to = stretch.to,
                     .duration = seconds(stretch.end_s - stretch.start_s),
                     .rate = stretch.rate,
                     .largest_difference_K = of_step.largest_difference_K,
                     .tension_Pa = of_step.tension_Pa,
                     .retardation_nm_per_cm = of_step.retardation_nm_per_cm,
                     .limited_by = nearest.of,
                     .nearest_share = nearest.share,
                     .over = nearest.share > 1.0});
  }
  return steps;
}

/// The run with tension that a slower stretch begins with put down to the one it comes from.
Measured lingering_put_back(const LogCourse& run, Measured measured) {
  std::size_t from = 0;
  for (std::size_t i = 1; i < run.stretches.size(); ++i) {
    const double before_Pa = measured.history.at(run.stretches[i].start_s).tension_Pa;
    double& here_Pa = measured.steps[i].tension_Pa;
    const bool lingers =
        before_Pa >= lingering_share * here_Pa && run.stretches[i].rate < run.stretches[from].rate;
    if (!lingers) {
      from = i;
      continue;
    }
    measured.steps[from].tension_Pa = std::max(measured.steps[from].tension_Pa, here_Pa);
    here_Pa = 0.0;
  }
  return measured;
}

}  // namespace

Measured measure_log(const Casting& casting, const Kiln& kiln, const LogCourse& run, Bulk bulk) {
  return measure(casting,
                 kiln,
                 run.course,
                 {.relaxation = relaxation_settings(run, casting.glass), .bulk = bulk});
}

LogCheck check_log(const Casting& casting,
                   const Kiln& kiln,
                   Controller::LateOnCooling late,
                   const FiringLog& log,
                   const std::optional<Program>& plan,
                   const Firing& firing,
                   const Limits& limits,
                   bool with_remedies,
                   Degrees shown,
                   std::span<const Bulk> held_to,
                   const Progress& progress) {
  const auto say = [&](const std::string& what) {
    if (progress) progress(what);
  };
  const Bulk own_bulk = casting.glass.relaxation.bulk;
  const Polyline line = reduced(log);
  LogCheck check{.result = {}, .run = course_of(line, casting, kiln, firing), .plan = {}};
  const LogCourse& run = check.run;
  const auto measure_as = [&](const LogCourse& changed, Bulk bulk) {
    return measure_log(casting, kiln, changed, bulk);
  };
  CheckResult& result = check.result;
  say("simulating what the kiln did");
  result.measured = measure_as(run, own_bulk);
  const Measured& measured = result.measured;
  result.treatments.push_back(of_treatment(own_bulk, measured));
  for (const Bulk bulk : held_to) {
    if (bulk != own_bulk) result.treatments.push_back(of_treatment(bulk, measure_as(run, bulk)));
  }
  result.steps = steps_of(run, measured, limits);
  result.program_time = seconds(run.end_s);

  const Polyline coarse = coarser(line, run, remedy_tolerance_K);
  const bool restless = coarse.corners.size() > most_remedy_corners;
  const auto measure_at = [&](std::size_t stretch, Rate rate) {
    const LogCourse changed = with_rate(coarse, run, stretch, rate, casting, kiln, firing);
    Measured worst = measure_as(changed, own_bulk);
    for (const Bulk bulk : held_to) {
      if (bulk != own_bulk) take_larger(worst, measure_as(changed, bulk));
    }
    return worst;
  };
  const PassingRate passing = [&](int step, const auto& value, double limit) {
    const auto stretch = static_cast<std::size_t>(step);
    const LogStretch& as_run = run.stretches[stretch];
    constexpr double level_K = 1.0;
    if (std::abs((as_run.to - as_run.from).in_K()) < level_K) return std::optional<Rate>{};
    say(fmt::format("looking for the rate that would have passed from {} to {}",
                    spoken(as_run.from, shown),
                    spoken(as_run.to, shown)));
    return fastest_passing(
        as_run.rate,
        value(measure_at(stretch, as_run.rate)),
        [&](Rate rate) { return value(measure_at(stretch, rate)); },
        limit);
  };
  const StepName name = [&](int step) -> std::string {
    if (step < 0) return "the firing";
    if (step >= static_cast<int>(run.stretches.size())) return "the fall assumed after the log";
    const LogStretch& stretch = run.stretches[static_cast<std::size_t>(step)];
    return fmt::format("{} {} {}, from {} to {}",
                       span_of_time(log.clock, stretch.start_s, stretch.end_s),
                       stretch.falls() ? "fell" : "rose",
                       rate_text(stretch.rate, shown),
                       spoken(stretch.from, shown),
                       spoken(stretch.to, shown));
  };
  result.findings = limit_findings(lingering_put_back(run, measured),
                                   result.treatments,
                                   limits,
                                   static_cast<int>(run.stretches.size()),
                                   name,
                                   with_remedies && !restless ? passing : PassingRate{});
  mark_steps(result);

  if (with_remedies && restless && !result.findings.empty()) {
    result.findings.push_back(
        note(Finding::Kind::outside_model,
             "what would have passed was not looked for: the readings go up and down too much"));
  }
  const History::Row& end = measured.history.at(run.end_s);
  check.centre_at_end_K = end.centre_K;
  const double warm_K = firing.room.in_K() + warm_above_room_K;
  check.ends_warm = run.last.in_K() > warm_K || end.centre_K > warm_K;
  for (Finding& finding : hold_findings(casting, kiln, measured, shown)) {
    result.findings.push_back(std::move(finding));
  }
  for (Finding& finding : log_notes(casting, kiln, firing, log, line, check, shown)) {
    result.findings.push_back(std::move(finding));
  }
  for (Finding& finding : casting_notes(casting, measured.history, shown)) {
    result.findings.push_back(std::move(finding));
  }
  const Opening opening = earliest_opening(
      casting, measured.history, firing.room, limits.tension, measured.window_start_s);
  result.opens = opening.opens;
  result.open_after = opening.after;
  sort_findings(result.findings);
  result.verdict = verdict_of(result.findings);
  check.begins_late = run.hottest < casting.glass.strain_point.value;
  if (check.begins_late && result.verdict == Verdict::within) {
    result.verdict = Verdict::too_close_to_call;
  }
  if (plan) {
    say("simulating the plan");
    check.plan = against_plan(
        thickset::check(casting, kiln, late, *plan, firing, limits, false, shown, held_to),
        run,
        line,
        casting.glass);
  }
  return check;
}

}  // namespace thickset

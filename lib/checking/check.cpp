#include "checking/check.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "checking/limit_findings.h"
#include "checking/notes.h"
#include "checking/opening.h"
#include "checking/remedy.h"

namespace thickset {
namespace {

bool is_late(const FollowedProgram& followed, int step) {
  return std::any_of(followed.late.begin(),
                     followed.late.end(),
                     [&](const FollowedProgram::Late& late) { return late.step == step; });
}

std::string step_name(int step, const Program& program, int first_step) {
  if (step >= static_cast<int>(program.steps.size())) return "the fall after the last step";
  if (step < 0) return "the program";
  return fmt::format("step {}", step + first_step);
}

}  // namespace

CheckResult check(const Casting& casting,
                  const Kiln& kiln,
                  Controller::LateOnCooling late,
                  const Program& program,
                  const Firing& firing,
                  const Limits& limits,
                  bool with_remedies,
                  Degrees shown,
                  std::span<const Bulk> held_to) {
  const Temperature start = start_of(program, firing);
  const Bulk own_bulk = casting.glass.relaxation.bulk;
  const auto measure_as = [&](const Program& changed, Bulk bulk) {
    return measure(casting, kiln, late, changed, firing, {.bulk = bulk});
  };
  // What mends a program has to mend it under every treatment.
  const MeasureProgram measure_worst = [&](const Program& changed) {
    Measured worst = measure_as(changed, own_bulk);
    for (const Bulk bulk : held_to) {
      if (bulk != own_bulk) take_larger(worst, measure_as(changed, bulk));
    }
    return worst;
  };
  CheckResult result;
  result.measured = measure_as(program, own_bulk);
  const Measured& measured = result.measured;
  result.treatments.push_back(of_treatment(own_bulk, measured));
  for (const Bulk bulk : held_to) {
    if (bulk != own_bulk)
      result.treatments.push_back(of_treatment(bulk, measure_as(program, bulk)));
  }

  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Measured::OfStep& of_step = measured.steps[i];
    const KeyedStep keyed = keyed_step(program, i, start);
    const NearestLimit nearest = nearest_limit(of_step, limits);
    StepResult step{.from = keyed.from, .to = keyed.to};
    step.duration = seconds(of_step.end_s - of_step.start_s);
    if (keyed.rate) step.rate = *keyed.rate;
    step.largest_difference_K = of_step.largest_difference_K;
    step.tension_Pa = of_step.tension_Pa;
    step.retardation_nm_per_cm = of_step.retardation_nm_per_cm;
    step.nearest_share = nearest.share;
    step.limited_by = is_late(measured.followed, static_cast<int>(i)) ? "kiln" : nearest.of;
    step.over = nearest.share > 1.0;
    result.steps.push_back(step);
    result.program_time = seconds(of_step.end_s);
  }

  const PassingRate passing = [&](int step, const auto& value, double limit) {
    return passing_rate(
        measure_worst, program, static_cast<std::size_t>(step), start, value, limit);
  };
  result.findings = limit_findings(
      measured,
      result.treatments,
      limits,
      static_cast<int>(program.steps.size()),
      [&](int step) { return step_name(step, program, firing.first_step); },
      with_remedies ? passing : PassingRate{});

  for (Finding& finding : late_findings(kiln, program, firing, measured.followed, shown)) {
    result.findings.push_back(std::move(finding));
  }
  mark_steps(result);

  for (Finding& finding : hold_findings(casting, kiln, measured, shown)) {
    result.findings.push_back(std::move(finding));
  }
  const Opening opening = earliest_opening(
      casting, measured.history, firing.room, limits.tension, measured.window_start_s);
  result.opens = opening.opens;
  result.open_after = opening.after;
  for (Finding& finding : program_notes(casting, program, firing, measured, shown)) {
    result.findings.push_back(std::move(finding));
  }
  sort_findings(result.findings);
  result.verdict = verdict_of(result.findings);
  return result;
}

}  // namespace thickset

#include "checking/check.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>

#include "checking/notes.h"
#include "checking/opening.h"
#include "checking/remedy.h"

namespace thickset {
namespace {

struct Share {
  double share = 0.0;
  const char* of = "";
};

Share nearest_limit(const Measured::OfStep& step, const Limits& limits) {
  const double retardation = step.retardation_nm_per_cm / limits.grade.in_nm_per_cm();
  const double tension = step.tension_Pa / limits.tension.in_Pa();
  return retardation >= tension ? Share{retardation, "retardation"} : Share{tension, "tension"};
}

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

/// Names the step of a finding: the first of the candidates whose slowing alone brings `value`
/// within the limit, with the rate that does; else it stays as it is.
class Remedies {
 public:
  Remedies(const MeasureProgram& measure_program, const Program& program, Temperature start)
      : measure_program_{measure_program}, program_{program}, start_{start} {}

  void mend(Finding& finding,
            const std::vector<int>& candidates,
            const std::function<double(const Measured&)>& value) const {
    for (const int candidate : candidates) {
      if (candidate < 0 || candidate >= static_cast<int>(program_.steps.size())) continue;
      finding.passing_rate = passing_rate(measure_program_,
                                          program_,
                                          static_cast<std::size_t>(candidate),
                                          start_,
                                          value,
                                          finding.limit);
      if (!finding.passing_rate) continue;
      finding.step = candidate;
      return;
    }
  }

 private:
  const MeasureProgram& measure_program_;
  const Program& program_;
  Temperature start_;
};

/// Steps by how much of the permanent stress they can answer for, most first.
std::vector<int> by_retardation(const Measured& measured) {
  constexpr double worth_trying = 0.2;  // of the largest
  constexpr std::size_t most = 4;
  const auto of = [&](int step) {
    return measured.steps[static_cast<std::size_t>(step)].retardation_nm_per_cm;
  };
  std::vector<int> order(measured.steps.size());
  std::iota(order.begin(), order.end(), 0);
  std::stable_sort(order.begin(), order.end(), [&](int a, int b) { return of(a) > of(b); });
  while (!order.empty() &&
         (order.size() > most || of(order.back()) <= worth_trying * of(order.front()))) {
    order.pop_back();
  }
  return order;
}

/// Keeps the worse of two findings of one kind about one step.
void add(std::vector<Finding>& findings, Finding finding) {
  for (Finding& known : findings) {
    if (known.kind != finding.kind || known.step != finding.step) continue;
    if (finding.value > known.value) known = std::move(finding);
    return;
  }
  findings.push_back(std::move(finding));
}

/// Takes over from another run of the same program what is larger there.
void take_larger(Measured& measured, const Measured& other) {
  measured.peak_tension_Pa = std::max(measured.peak_tension_Pa, other.peak_tension_Pa);
  measured.permanent.retardation =
      std::max(measured.permanent.retardation, other.permanent.retardation);
  for (std::size_t i = 0; i < measured.steps.size(); ++i) {
    double& tension_Pa = measured.steps[i].tension_Pa;
    tension_Pa = std::max(tension_Pa, other.steps[i].tension_Pa);
  }
}

double worst_share(const CheckResult::OfTreatment& of, const Limits& limits) {
  return std::max(of.retardation.in_nm_per_cm() / limits.grade.in_nm_per_cm(),
                  of.peak_tension_Pa / limits.tension.in_Pa());
}

CheckResult::OfTreatment of_treatment(Bulk bulk, const Measured& measured) {
  return {bulk, measured.permanent.retardation, measured.peak_tension_Pa};
}

/// "with elastic bulk it leaves 10.6 nm/cm (limit 10), with relaxing bulk 9.1": of the treatment
/// that is worst, against the glass's own.
std::string against_own(const CheckResult::OfTreatment& worst,
                        const CheckResult::OfTreatment& own,
                        const Limits& limits) {
  const bool by_stress = worst.retardation > limits.grade;
  const auto value = [&](const CheckResult::OfTreatment& of) {
    return by_stress ? of.retardation.in_nm_per_cm() : of.peak_tension_Pa * 1e-6;
  };
  return fmt::format(
      "too close to call: with the bulk taken as {} it {} {:.{}f} {} (limit {:g}), as {} {:.{}f}",
      name_of(worst.bulk),
      by_stress ? "leaves" : "pulls",
      value(worst),
      by_stress ? 1 : 2,
      by_stress ? "nm/cm" : "MPa",
      by_stress ? limits.grade.in_nm_per_cm() : limits.tension.in_MPa(),
      name_of(own.bulk),
      value(own),
      by_stress ? 1 : 2);
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
    const Share nearest = nearest_limit(of_step, limits);
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

  const Remedies remedies{measure_worst, program, start};
  const double left_nm_per_cm = measured.permanent.retardation.in_nm_per_cm();
  if (left_nm_per_cm > limits.grade.in_nm_per_cm()) {
    const std::vector<int> candidates = by_retardation(measured);
    Finding finding{.kind = Finding::Kind::retardation,
                    .over = true,
                    .step = candidates.empty() ? -1 : candidates.front(),
                    .value = left_nm_per_cm,
                    .limit = limits.grade.in_nm_per_cm(),
                    .text = {}};
    if (with_remedies) {
      remedies.mend(finding, candidates, [](const Measured& run) {
        return run.permanent.retardation.in_nm_per_cm();
      });
    }
    finding.text =
        fmt::format("{}: too fast while stress is being set: leaves {:.1f} nm/cm, limit {:g}",
                    step_name(finding.step, program, firing.first_step),
                    finding.value,
                    finding.limit);
    result.findings.push_back(std::move(finding));
  }
  for (std::size_t i = 0; i < measured.steps.size(); ++i) {
    const double tension_MPa = measured.steps[i].tension_Pa * 1e-6;
    if (tension_MPa <= limits.tension.in_MPa()) continue;
    const int step = static_cast<int>(i);
    Finding finding{.kind = Finding::Kind::tension,
                    .over = true,
                    .step = step,
                    .value = tension_MPa,
                    .limit = limits.tension.in_MPa(),
                    .text = {}};
    if (with_remedies) {
      // The gradient of one step is still there when the next begins: try it, then the one before.
      remedies.mend(finding, {step, step - 1}, [](const Measured& run) {
        return run.peak_tension_Pa * 1e-6;
      });
      if (!finding.passing_rate) {  // others are over as well: what this one needs for itself
        remedies.mend(
            finding, {step}, [&](const Measured& run) { return run.steps[i].tension_Pa * 1e-6; });
      }
    }
    finding.text = fmt::format("{}: tension of {:.1f} MPa, limit {:g} MPa",
                               step_name(finding.step, program, firing.first_step),
                               finding.value,
                               finding.limit);
    add(result.findings, std::move(finding));
  }
  const auto worst = std::max_element(
      result.treatments.begin(), result.treatments.end(), [&](const auto& a, const auto& b) {
        return worst_share(a, limits) < worst_share(b, limits);
      });
  if (result.findings.empty() && worst_share(*worst, limits) > 1.0) {
    const bool by_stress = worst->retardation > limits.grade;
    const auto value = [by_stress](const Measured& run) {
      return by_stress ? run.permanent.retardation.in_nm_per_cm() : run.peak_tension_Pa * 1e-6;
    };
    Finding finding{
        .kind = Finding::Kind::other_treatment,
        .value = by_stress ? worst->retardation.in_nm_per_cm() : worst->peak_tension_Pa * 1e-6,
        .limit = by_stress ? limits.grade.in_nm_per_cm() : limits.tension.in_MPa(),
        .text = against_own(*worst, result.treatments.front(), limits)};
    if (with_remedies) {
      remedies.mend(
          finding,
          by_stress ? by_retardation(measured) : std::vector<int>{measured.peak_tension_step},
          value);
    }
    result.findings.push_back(std::move(finding));
  }

  for (Finding& finding : late_findings(kiln, program, firing, measured.followed, shown)) {
    result.findings.push_back(std::move(finding));
  }
  for (const Finding& finding : result.findings) {
    if (finding.step < 0 || finding.step >= static_cast<int>(result.steps.size())) continue;
    StepResult& step = result.steps[static_cast<std::size_t>(finding.step)];
    step.over = step.over || finding.over;
    if (finding.passing_rate &&
        (!step.passing_rate || *finding.passing_rate < *step.passing_rate)) {
      step.passing_rate = finding.passing_rate;
    }
  }

  for (Finding& finding : hold_findings(casting, measured, shown)) {
    result.findings.push_back(std::move(finding));
  }
  const Opening opening = earliest_opening(
      casting, measured.history, firing.room, limits.tension, measured.window_start_s);
  result.opens = opening.opens;
  result.open_after = opening.after;
  for (Finding& finding : program_notes(casting, program, firing, measured, shown)) {
    result.findings.push_back(std::move(finding));
  }
  std::stable_sort(
      result.findings.begin(), result.findings.end(), [](const Finding& a, const Finding& b) {
        if (a.over != b.over) return a.over;
        const auto excess = [](const Finding& f) {
          return f.limit > 0.0 ? f.value / f.limit : 0.0;
        };
        return a.over && excess(a) > excess(b);
      });
  const bool any_over = std::any_of(result.findings.begin(),
                                    result.findings.end(),
                                    [](const Finding& finding) { return finding.over; });
  const bool too_close =
      std::any_of(result.findings.begin(), result.findings.end(), [](const Finding& finding) {
        return finding.kind == Finding::Kind::other_treatment;
      });
  result.verdict = any_over    ? Verdict::over
                   : too_close ? Verdict::too_close_to_call
                               : Verdict::within;
  return result;
}

}  // namespace thickset

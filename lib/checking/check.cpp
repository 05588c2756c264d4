#include "checking/check.h"

#include <algorithm>
#include <cmath>

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

std::string step_name(int step, const Program& program) {
  if (step >= static_cast<int>(program.steps.size())) return "the fall after the last step";
  return fmt::format("step {}", step + 1);
}

/// A finding of a limit exceeded, with the one step whose slowing alone mends it where there is
/// one.
class OverLimit {
 public:
  OverLimit(const MeasureProgram& measure_program,
            const Program& program,
            Temperature start,
            bool with_remedies)
      : measure_program_{measure_program},
        program_{program},
        start_{start},
        with_remedies_{with_remedies} {}

  Finding find(Finding::Kind kind,
               int step,
               double value,
               double limit,
               const std::string& what,
               const std::function<double(const Measured&)>& everywhere,
               const std::function<double(const Measured&, std::size_t)>& in_step) const {
    Finding finding{.kind = kind,
                    .over = true,
                    .step = step,
                    .value = value,
                    .limit = limit,
                    .text = {},
                    .passing_rate = std::nullopt};
    if (with_remedies_) mend(finding, everywhere, in_step);
    finding.text = fmt::format("{}: {}", step_name(finding.step, program_), what);
    return finding;
  }

 private:
  void mend(Finding& finding,
            const std::function<double(const Measured&)>& everywhere,
            const std::function<double(const Measured&, std::size_t)>& in_step) const {
    const int steps = static_cast<int>(program_.steps.size());
    // The gradient of one step is still there when the next begins: try the step itself, then the
    // one before it.
    for (const int candidate : {finding.step, finding.step - 1}) {
      if (candidate < 0 || candidate >= steps) continue;
      const auto at = static_cast<std::size_t>(candidate);
      finding.passing_rate =
          passing_rate(measure_program_, program_, at, start_, everywhere, finding.limit);
      if (finding.passing_rate) {
        finding.step = candidate;
        return;
      }
    }
    // Other steps are over as well: say what this one alone would need.
    if (finding.step < 0 || finding.step >= steps) return;
    const auto at = static_cast<std::size_t>(finding.step);
    finding.passing_rate = passing_rate(
        measure_program_,
        program_,
        at,
        start_,
        [&](const Measured& run) { return in_step(run, at); },
        finding.limit);
  }

  const MeasureProgram& measure_program_;
  const Program& program_;
  Temperature start_;
  bool with_remedies_;
};

/// Keeps the worse of two findings of one kind about one step.
void add(std::vector<Finding>& findings, Finding finding) {
  for (Finding& known : findings) {
    if (known.kind != finding.kind || known.step != finding.step) continue;
    if (finding.value > known.value) known = std::move(finding);
    return;
  }
  findings.push_back(std::move(finding));
}

}  // namespace

CheckResult check(const Casting& casting,
                  const Kiln& kiln,
                  Controller::LateOnCooling late,
                  const Program& program,
                  const Firing& firing,
                  const Limits& limits,
                  bool with_remedies,
                  Degrees shown) {
  const Temperature start = start_of(program, firing);
  const MeasureProgram measure_program = [&](const Program& changed) {
    return measure(casting, kiln, late, changed, firing);
  };
  CheckResult result;
  result.measured = measure_program(program);
  const Measured& measured = result.measured;

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

  const OverLimit over{measure_program, program, start, with_remedies};
  const auto in_nm_per_cm = [](const Measured& run) {
    return run.permanent.retardation.in_nm_per_cm();
  };
  const auto in_MPa = [](const Measured& run) { return run.peak_tension_Pa * 1e-6; };
  for (std::size_t i = 0; i < measured.steps.size(); ++i) {
    const Measured::OfStep& of_step = measured.steps[i];
    const double left = of_step.retardation_nm_per_cm;
    const double tension_MPa = of_step.tension_Pa * 1e-6;
    if (left > limits.grade.in_nm_per_cm()) {
      add(result.findings,
          over.find(
              Finding::Kind::retardation,
              static_cast<int>(i),
              left,
              limits.grade.in_nm_per_cm(),
              fmt::format("too fast while stress is being set: leaves {:.1f} nm/cm, limit {:.1f}",
                          left,
                          limits.grade.in_nm_per_cm()),
              in_nm_per_cm,
              [](const Measured& run, std::size_t at) {
                return run.steps[at].retardation_nm_per_cm;
              }));
    }
    if (tension_MPa > limits.tension.in_MPa()) {
      add(result.findings,
          over.find(
              Finding::Kind::tension,
              static_cast<int>(i),
              tension_MPa,
              limits.tension.in_MPa(),
              fmt::format("tension of {:.1f} MPa while cooling, limit {:.1f} MPa",
                          tension_MPa,
                          limits.tension.in_MPa()),
              in_MPa,
              [](const Measured& run, std::size_t at) { return run.steps[at].tension_Pa * 1e-6; }));
    }
  }
  for (const Finding& finding : result.findings) {
    if (finding.step < 0 || finding.step >= static_cast<int>(result.steps.size())) continue;
    StepResult& step = result.steps[static_cast<std::size_t>(finding.step)];
    step.over = true;
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
  result.verdict = any_over ? Verdict::over : Verdict::within;
  return result;
}

}  // namespace thickset

#include "checking/limit_findings.h"

#include <algorithm>
#include <numeric>
#include <utility>

#include <fmt/format.h>

#include "units/beside_limit.h"

namespace thickset {
namespace {

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

double worst_share(const CheckResult::OfTreatment& of, const Limits& limits) {
  return std::max(of.retardation.in_nm_per_cm() / limits.grade.in_nm_per_cm(),
                  of.peak_tension_Pa / limits.tension.in_Pa());
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

NearestLimit nearest_limit(const Measured::OfStep& step, const Limits& limits) {
  const double retardation = step.retardation_nm_per_cm / limits.grade.in_nm_per_cm();
  const double tension = step.tension_Pa / limits.tension.in_Pa();
  return retardation >= tension ? NearestLimit{retardation, "retardation"}
                                : NearestLimit{tension, "tension"};
}

CheckResult::OfTreatment of_treatment(Bulk bulk, const Measured& measured) {
  return {bulk, measured.permanent.retardation, measured.peak_tension_Pa};
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

std::vector<Finding> limit_findings(const Measured& measured,
                                    std::span<const CheckResult::OfTreatment> treatments,
                                    const Limits& limits,
                                    int steps,
                                    const StepName& name,
                                    const PassingRate& passing_rate) {
  std::vector<Finding> findings;
  const auto mend = [&](Finding& finding,
                        const std::vector<int>& candidates,
                        const std::function<double(const Measured&)>& value) {
    // The first of the candidates whose slowing alone brings `value` within the limit.
    for (const int candidate : candidates) {
      if (candidate < 0 || candidate >= steps) continue;
      finding.passing_rate = passing_rate(candidate, value, finding.limit);
      if (!finding.passing_rate) continue;
      finding.step = candidate;
      return;
    }
  };
  // Where stress and tension are over, one step may mend both: then no other need be slowed.
  struct Mended {
    int step;
    Rate rate;
  };
  std::optional<Mended> mends_both;
  const bool both_over = measured.permanent.retardation > limits.grade &&
                         measured.peak_tension_Pa > limits.tension.in_Pa();
  if (both_over && passing_rate) {
    std::vector<int> candidates = by_retardation(measured);
    // The gradient of one step is still there when the next begins.
    candidates.insert(candidates.begin(),
                      {measured.peak_tension_step, measured.peak_tension_step - 1});
    for (const int candidate : candidates) {
      if (mends_both || candidate < 0 || candidate >= steps) continue;
      const std::optional<Rate> rate = passing_rate(
          candidate,
          [&](const Measured& run) {
            return std::max(run.permanent.retardation.in_nm_per_cm() / limits.grade.in_nm_per_cm(),
                            run.peak_tension_Pa / limits.tension.in_Pa());
          },
          1.0);
      if (rate) mends_both = Mended{candidate, *rate};
    }
  }
  const double left_nm_per_cm = measured.permanent.retardation.in_nm_per_cm();
  if (left_nm_per_cm > limits.grade.in_nm_per_cm()) {
    const std::vector<int> candidates = by_retardation(measured);
    Finding finding{.kind = Finding::Kind::retardation,
                    .over = true,
                    .step = candidates.empty() ? -1 : candidates.front(),
                    .value = left_nm_per_cm,
                    .limit = limits.grade.in_nm_per_cm(),
                    .text = {}};
    if (mends_both) {
      finding.step = mends_both->step;
      finding.passing_rate = mends_both->rate;
    } else if (passing_rate) {
      mend(finding, candidates, [](const Measured& run) {
        return run.permanent.retardation.in_nm_per_cm();
      });
    }
    finding.text =
        fmt::format("{}: too fast while stress is being set: leaves {} nm/cm, limit {:g}",
                    name(finding.step),
                    beside_limit(finding.value, finding.limit),
                    finding.limit);
    findings.push_back(std::move(finding));
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
    if (mends_both && (mends_both->step == step || mends_both->step == step - 1)) {
      finding.step = mends_both->step;
      finding.passing_rate = mends_both->rate;
    } else if (passing_rate) {
      // The gradient of one step is still there when the next begins: try it, then the one before.
      mend(finding, {step, step - 1}, [](const Measured& run) {
        return run.peak_tension_Pa * 1e-6;
      });
      if (!finding.passing_rate) {  // others are over as well: what this one needs for itself
        mend(finding, {step}, [&](const Measured& run) { return run.steps[i].tension_Pa * 1e-6; });
      }
    }
    finding.text = fmt::format("{}: tension of {} MPa, limit {:g} MPa",
                               name(finding.step),
                               beside_limit(finding.value, finding.limit),
                               finding.limit);
    add(findings, std::move(finding));
  }
  const auto worst =
      std::max_element(treatments.begin(), treatments.end(), [&](const auto& a, const auto& b) {
        return worst_share(a, limits) < worst_share(b, limits);
      });
  if (findings.empty() && worst_share(*worst, limits) > 1.0) {
    const bool by_stress = worst->retardation > limits.grade;
    const auto value = [by_stress](const Measured& run) {
      return by_stress ? run.permanent.retardation.in_nm_per_cm() : run.peak_tension_Pa * 1e-6;
    };
    Finding finding{
        .kind = Finding::Kind::other_treatment,
        .value = by_stress ? worst->retardation.in_nm_per_cm() : worst->peak_tension_Pa * 1e-6,
        .limit = by_stress ? limits.grade.in_nm_per_cm() : limits.tension.in_MPa(),
        .text = against_own(*worst, treatments.front(), limits)};
    if (passing_rate) {
      mend(finding,
           by_stress ? by_retardation(measured) : std::vector<int>{measured.peak_tension_step},
           value);
    }
    findings.push_back(std::move(finding));
  }
  return findings;
}

void mark_steps(CheckResult& result) {
  for (const Finding& finding : result.findings) {
    if (finding.step < 0 || finding.step >= static_cast<int>(result.steps.size())) continue;
    StepResult& step = result.steps[static_cast<std::size_t>(finding.step)];
    step.over = step.over || finding.over;
    if (finding.passing_rate &&
        (!step.passing_rate || *finding.passing_rate < *step.passing_rate)) {
      step.passing_rate = finding.passing_rate;
    }
  }
}

void sort_findings(std::vector<Finding>& findings) {
  std::stable_sort(findings.begin(), findings.end(), [](const Finding& a, const Finding& b) {
    if (a.over != b.over) return a.over;
    const auto excess = [](const Finding& f) { return f.limit > 0.0 ? f.value / f.limit : 0.0; };
    return a.over && excess(a) > excess(b);
  });
}

Verdict verdict_of(std::span<const Finding> findings) {
  const bool any_over = std::any_of(
      findings.begin(), findings.end(), [](const Finding& finding) { return finding.over; });
  const bool too_close = std::any_of(findings.begin(), findings.end(), [](const Finding& finding) {
    return finding.kind == Finding::Kind::other_treatment;
  });
  return any_over ? Verdict::over : too_close ? Verdict::too_close_to_call : Verdict::within;
}

}  // namespace thickset

#include "reporting/log_report.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reporting/cautions.h"
#include "reporting/how_sure_section.h"
#include "reporting/sections.h"
#include "reporting/walls_section.h"
#include "schedule/log_clock.h"

namespace thickset {
namespace {

/// What was planned, to go behind what was: "; the plan leaves 9.1, with 7.0 C/h there".
std::string instead_of(const Finding& finding, const LogCheck& check, const Display& display) {
  if (!check.plan) return {};
  const Measured& planned = check.plan->planned.measured;
  std::string text;
  if (finding.kind == Finding::Kind::retardation) {
    text = fmt::format("; the plan leaves {:.1f}", planned.permanent.retardation.in_nm_per_cm());
  } else if (finding.kind == Finding::Kind::tension) {
    text = fmt::format("; the plan pulls {:.1f} at most", planned.peak_tension_Pa * 1e-6);
  }
  const auto stretch = static_cast<std::size_t>(finding.step);
  if (finding.step >= 0 && stretch < check.plan->rates.size() && check.plan->rates[stretch]) {
    text += fmt::format(", with {} there", show(*check.plan->rates[stretch], display));
  }
  return text;
}

std::string remedy(const Finding& finding, const Display& display) {
  if (!finding.passing_rate) return {};
  return fmt::format("; would have passed at {}", show(*finding.passing_rate, display));
}

std::string log_section(const FiringLog& log, const LogCheck& check) {
  std::string text =
      wrapped(fmt::format("The log: {}, {} usable readings from {} to {}; simulated on {} straight "
                          "lines.",
                          log.sensor,
                          log.time_s.size(),
                          moment(log.clock, 0.0),
                          moment(log.clock, check.run.end_s),
                          check.run.corners - 1)) +
      '\n';
  std::vector<std::string> lines;
  for (const LogRemark& remark : log.remarks) lines.push_back(remark.text);
  return lines.empty() ? text
                       : text + "What was wrong with it, and what was done:\n" + listed(lines);
}

std::string stretch_table(const ReportContext& context,
                          const FiringLog& log,
                          const LogCheck& check) {
  const Display& display = context.display;
  const CheckResult& result = check.result;
  std::string text = fmt::format("{:<12} {:>7} {:>7} {:>9} {:>9} {:>9} {:>8} {:>5}\n",
                                 "from",
                                 "from",
                                 "to",
                                 "rate",
                                 check.plan ? "plan" : "",
                                 "core-surf",
                                 "tension",
                                 "nm/cm");
  for (std::size_t i = 0; i < result.steps.size(); ++i) {
    const StepResult& step = result.steps[i];
    const std::optional<Rate> planned = check.plan ? check.plan->rates[i] : std::nullopt;
    text += fmt::format(
        "{:<12} {:>7} {:>7} {:>9} {:>9} {:>9} {:>8} {:>5}{}\n",
        short_moment(log.clock, check.run.stretches[i].start_s),
        show(step.from, display),
        show(step.to, display),
        show(step.rate, display),
        planned ? show(*planned, display) : "",
        show_difference(TemperatureDifference::from_K(step.largest_difference_K), display),
        step.tension_Pa > 0.0 ? fmt::format("{:.1f} MPa", step.tension_Pa * 1e-6) : "-",
        step.retardation_nm_per_cm > 0.0 ? fmt::format("{:.1f}", step.retardation_nm_per_cm) : "-",
        step.over ? " over" : "");
  }
  text += fmt::format("{:<12} the log ends\n", short_moment(log.clock, check.run.end_s));
  return text +
         "nm/cm: the permanent part, shared out by each stretch's gradient; the largest\n"
         "is the computed whole. core-surf: largest difference from core to surface.\n";
}

std::string plan_section(const ReportContext& context,
                         const FiringLog& log,
                         const AgainstPlan& plan) {
  const Measured& planned = plan.planned.measured;
  const auto apart = [&](double apart_K, double at_s, const char* where) {
    return apart_K > 0.0 ? fmt::format("at most {} {} it ({})",
                                       show_difference(TemperatureDifference::from_K(apart_K),
                                                       context.display),
                                       where,
                                       short_moment(log.clock, at_s))
                         : fmt::format("never {} it", where);
  };
  return wrapped(fmt::format("The plan, simulated: leaves {:.1f} nm/cm, pulls {:.1f} MPa ({}). Put "
                             "together where the fall begins, the kiln was {} and {}.",
                             planned.permanent.retardation.in_nm_per_cm(),
                             planned.peak_tension_Pa * 1e-6,
                             word(plan.planned.verdict),
                             apart(plan.above_K, plan.above_at_s, "above"),
                             apart(plan.below_K, plan.below_at_s, "below"))) +
         '\n';
}

}  // namespace

std::string log_to_do(const ReportContext& context, const LogCheck& check) {
  const CheckResult& result = check.result;
  const Measured& measured = result.measured;
  std::string text;
  if (check.begins_late) {
    text =
        wrapped(fmt::format(
            "What stays cannot be judged by this log: it never comes up to the strain point ({}), "
            "so what was set before it began is not in it.",
            show(context.casting.glass.strain_point.value, context.display))) +
        '\n';
  }
  const bool none_over = std::none_of(result.findings.begin(),
                                      result.findings.end(),
                                      [](const Finding& finding) { return finding.said_first(); });
  if (check.begins_late && none_over) {
    text += wrapped(fmt::format("Of the log alone: leaves {:.1f} nm/cm, pulls {:.1f} MPa.",
                                measured.permanent.retardation.in_nm_per_cm(),
                                measured.peak_tension_Pa * 1e-6)) +
            '\n';
  } else if (result.verdict == Verdict::within) {
    text = wrapped(fmt::format("Within the limits, as simulated from the log: leaves {:.1f} nm/cm "
                               "(limit {:g}), pulls {:.1f} MPa (limit {:g}).",
                               measured.permanent.retardation.in_nm_per_cm(),
                               context.limits.grade.in_nm_per_cm(),
                               measured.peak_tension_Pa * 1e-6,
                               context.limits.tension.in_MPa())) +
           '\n';
  } else {
    text += result.verdict == Verdict::too_close_to_call
                ? "Too close to call: within the limits only if the glass relaxes as assumed:\n"
                : "Over the limits:\n";
    std::vector<std::string> lines;
    for (const Finding& finding : result.findings) {
      if (!finding.said_first()) continue;
      lines.push_back(finding.text + instead_of(finding, check, context.display) +
                      remedy(finding, context.display));
    }
    text += listed(lines) + rates_looked_for_alone(result);
  }
  if (check.ends_warm) {
    text +=
        wrapped(fmt::format("The log ends with the kiln at {}, the slowest glass at {}: what "
                            "comes after it is assumed, and counted above. `thickset now` tells "
                            "what is certain already.",
                            show(check.run.last, context.display),
                            show(Temperature::from_K(check.centre_at_end_K), context.display))) +
        '\n';
  }
  return text;
}

std::string log_text(const ReportContext& context, const FiringLog& log, const LogCheck& check) {
  const CheckResult& result = check.result;
  std::string text = log_to_do(context, check);
  text += '\n' + log_section(log, check);
  text += '\n' + stretch_table(context, log, check);
  if (check.plan) text += '\n' + plan_section(context, log, *check.plan);
  if (result.opens) {
    text += '\n' +
            wrapped(fmt::format(
                "Cool enough to open from {} on, as computed{}.",
                moment(log.clock, in_s(result.open_after)),
                in_s(result.open_after) > check.run.end_s ? ", after the log's end" : "")) +
            '\n';
  }
  if (context.casting.walls) text += '\n' + walls_section(context, std::nullopt);
  text += '\n' + made_for(context);
  text += '\n' + stress_section(context, result);
  text += how_sure_paragraph(context);
  if (context.treatments) text += '\n' + treatments_section(context, *context.treatments);
  text += '\n' + equivalents_section(context);
  text += '\n' + assumptions_section(context);
  std::vector<std::string> notes;
  for (const Finding& finding : result.findings) {
    if (!finding.said_first()) notes.push_back(finding.text);
  }
  if (!notes.empty()) text += "\nNotes:\n" + listed(notes);
  return text + '\n' + short_cautions();
}

std::string log_csv(const ReportContext& context, const LogCheck& check) {
  const Degrees degrees = context.display.degrees;
  std::string text = fmt::format(
      "start_h,end_h,from_{0},to_{0},rate_{0}_per_h,plan_rate_{0}_per_h,largest_difference_{0},"
      "tension_MPa,retardation_nm_per_cm,nearest_limit,share_of_limit,over,passing_rate_{0}_per_h"
      "\n",
      letter(degrees));
  const auto rate_or_empty = [&](const std::optional<Rate>& rate) {
    return rate ? fmt::format("{:.6g}", in_degrees_per_h(*rate, degrees)) : std::string{};
  };
  for (std::size_t i = 0; i < check.result.steps.size(); ++i) {
    const StepResult& step = check.result.steps[i];
    text +=
        fmt::format("{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{},{:.6g},{:.6g},{:.6g},{},{:.6g},{},{}\n",
                    check.run.stretches[i].start_s / 3600.0,
                    check.run.stretches[i].end_s / 3600.0,
                    in_degrees(step.from, degrees),
                    in_degrees(step.to, degrees),
                    in_degrees_per_h(step.rate, degrees),
                    check.plan ? rate_or_empty(check.plan->rates[i]) : std::string{},
                    in_degrees(TemperatureDifference::from_K(step.largest_difference_K), degrees),
                    step.tension_Pa * 1e-6,
                    step.retardation_nm_per_cm,
                    step.limited_by,
                    step.nearest_share,
                    step.over ? "yes" : "no",
                    rate_or_empty(step.passing_rate));
  }
  return text;
}

std::string log_keys(const FiringLog& log, const LogCheck& check) {
  std::string text;
  text += fmt::format("log_readings = {}\n", log.time_s.size());
  text += fmt::format("log_remarks = {}\n", log.remarks.size());
  text += fmt::format("log_corners = {}\n", check.run.corners);
  text += fmt::format("log_h = {:.6g}\n", check.run.end_s / 3600.0);
  text += fmt::format("log_end_C = {:.6g}\n", check.run.last.in_C());
  text += fmt::format("log_end_slowest_glass_C = {:.6g}\n",
                      Temperature::from_K(check.centre_at_end_K).in_C());
  text += fmt::format("log_ends_warm = {}\n", check.ends_warm ? "yes" : "no");
  for (std::size_t i = 0; i < check.run.stretches.size(); ++i) {
    const LogStretch& stretch = check.run.stretches[i];
    text += fmt::format("step_{}_start_h = {:.6g}\n", i + 1, stretch.start_s / 3600.0);
    text += fmt::format("step_{}_rate_C_per_h = {:.6g}\n",
                        i + 1,
                        (stretch.falls() ? -1.0 : 1.0) * stretch.rate.in_K_per_h());
  }
  if (check.plan) {
    const CheckResult& planned = check.plan->planned;
    text += fmt::format("plan_residual_retardation_nm_per_cm = {:.6g}\n",
                        planned.measured.permanent.retardation.in_nm_per_cm());
    text +=
        fmt::format("plan_peak_tension_MPa = {:.6g}\n", planned.measured.peak_tension_Pa * 1e-6);
    text += fmt::format("plan_verdict = {}\n", word(planned.verdict));
    text += fmt::format("above_plan_K = {:.6g}\n", check.plan->above_K);
    text += fmt::format("below_plan_K = {:.6g}\n", check.plan->below_K);
  }
  return text + check_keys(check.result);
}

}  // namespace thickset

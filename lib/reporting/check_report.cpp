#include <algorithm>

#include <fmt/format.h>

#include "checking/another_reading.h"
#include "checking/remedy.h"
#include "checking/slips.h"
#include "reporting/bow_section.h"
#include "reporting/cautions.h"
#include "reporting/how_sure_section.h"
#include "reporting/read_back.h"
#include "reporting/report.h"
#include "reporting/sections.h"
#include "reporting/shape_stress_section.h"
#include "reporting/walls_section.h"

namespace thickset {
namespace {

/// "; step 2 would pass at 5.3 °C/h"; for the fall after the program the step that is missing.
std::string remedy(const Finding& finding, const ReportContext& context, const CheckResult& all) {
  if (finding.passing_rate) {
    return fmt::format("; step {} would pass at {}",
                       finding.step + context.firing.first_step,
                       rate_to_key(*finding.passing_rate, context.display.degrees));
  }
  const bool after_program = finding.step + 1 == static_cast<int>(all.measured.steps.size());
  const auto missing = std::find_if(
      all.findings.begin(), all.findings.end(), [](const Finding& f) { return !f.to_key.empty(); });
  return after_program && missing != all.findings.end() ? "; to mend it, " + missing->to_key : "";
}

std::string step_table(const ReportContext& context, const CheckResult& result) {
  const Display& display = context.display;
  std::string text = fmt::format("{:>4} {:>7} {:>7} {:>10} {:>12} {:>9} {:>8} {:>6}{}\n",
                                 "step",
                                 "from",
                                 "to",
                                 "rate",
                                 "time",
                                 "core-surf",
                                 "tension",
                                 "nm/cm",
                                 "");
  for (std::size_t i = 0; i < result.steps.size(); ++i) {
    const StepResult& step = result.steps[i];
    text += fmt::format(
        "{:>4} {:>7} {:>7} {:>10} {:>12} {:>9} {:>8} {:>6}{}\n",
        i + 1,
        show(step.from, display),
        show(step.to, display),
        step.rate.in_K_per_s() > 0.0 ? show(step.rate, display) : "",
        show(step.duration),
        show_difference(TemperatureDifference::from_K(step.largest_difference_K), display),
        step.tension_Pa > 0.0 ? fmt::format("{:.1f} MPa", step.tension_Pa * 1e-6) : "-",
        step.retardation_nm_per_cm > 0.0 ? fmt::format("{:.1f}", step.retardation_nm_per_cm) : "-",
        step.over ? "  over" : "");
  }
  return text +
         "nm/cm: the permanent part, shared out by each step's gradient; the largest is\n"
         "the computed whole. core-surf: largest difference from core to surface.\n";
}

/// What the controller cannot be told; else nothing.
std::string not_to_be_keyed(const ReportContext& context, const CheckResult& result) {
  std::vector<std::string> lines;
  for (const Finding& finding : result.findings) {
    if (finding.kind == Finding::Kind::cannot_be_keyed) lines.push_back(finding.text);
  }
  if (lines.empty()) return {};
  return wrapped(fmt::format("It cannot be keyed into this controller ({}); `thickset convert` "
                             "shows what comes nearest:",
                             context.controller.title)) +
         '\n' + listed(lines);
}

/// What a verdict on a firing that begins cold takes for granted; else nothing.
std::string taken_in_pieces(const CheckResult& result) {
  std::string text;
  for (const Finding& finding : result.findings) {
    if (finding.kind == Finding::Kind::in_pieces)
      text += wrapped("Note: " + finding.text + '.') + '\n';
  }
  return text;
}

std::string verdict_text(const ReportContext& context, const CheckResult& result) {
  const Measured& measured = result.measured;
  if (result.verdict == Verdict::within) {
    return wrapped(fmt::format("Within the limits, as simulated: leaves {:.1f} nm/cm (limit {:g}), "
                               "pulls {:.1f} MPa "
                               "(limit {:g}).",
                               measured.permanent.retardation.in_nm_per_cm(),
                               context.limits.grade.in_nm_per_cm(),
                               measured.peak_tension_Pa * 1e-6,
                               context.limits.tension.in_MPa())) +
           '\n';
  }
  const bool too_close = result.verdict == Verdict::too_close_to_call;
  std::string text = too_close
                         ? "Too close to call: within the limits only if the glass relaxes as "
                           "assumed.\nTake it a little slower:\n"
                         : "Over the limits:\n";
  std::vector<std::string> lines;
  for (const Finding& finding : result.findings) {
    if (finding.over || finding.kind == Finding::Kind::other_treatment)
      lines.push_back(finding.text + remedy(finding, context, result));
  }
  return text + listed(lines) + rates_looked_for_alone(result);
}

}  // namespace

std::string check_to_do(const ReportContext& context, const CheckResult& result) {
  return verdict_text(context, result) + not_to_be_keyed(context, result) + taken_in_pieces(result);
}

std::string check_text(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result) {
  std::string text = check_to_do(context, result);
  text += '\n' + read_back(context, program, result);
  const std::string slips = slips_section(result);
  if (!slips.empty()) text += '\n' + slips;
  text += '\n' + step_table(context, result);
  text += fmt::format("\nThe program takes {}, to {}.\n",
                      show_days(result.program_time),
                      kiln_at_end(result, program, context.display));
  if (result.opens) {
    text += fmt::format("Earliest opening {} after the start, as computed.\n",
                        show_days(result.open_after));
    if (context.start) {
      text += fmt::format(
          "Started {}: earliest opening {}.\n",
          show(*context.start),
          show(*context.start + std::chrono::ceil<std::chrono::minutes>(result.open_after)));
    }
  }
  if (context.casting.walls) {
    text += '\n' + glass_at_step_ends(context, result);
    text += '\n' + walls_section(context, std::nullopt);
  }
  text += '\n' + made_for(context);
  text += '\n' + stress_section(context, result);
  text += how_sure_paragraph(context);
  text += bow_section(context, result);
  if (context.treatments) {
    text += '\n' + treatments_section(context, *context.treatments);
    text += shape_stress_section(context);
  }
  text += '\n' + equivalents_section(context);
  text += '\n' + assumptions_section(context);
  std::vector<std::string> notes;
  for (const Finding& finding : result.findings) {
    if (!finding.said_first() && !is_about_keying(finding)) notes.push_back(finding.text);
  }
  if (!notes.empty()) text += "\nNotes:\n" + listed(notes);
  return text + '\n' + short_cautions();
}

std::string check_csv(const ReportContext& context,
                      const Program& program,
                      const CheckResult& result) {
  const Degrees degrees = context.display.degrees;
  const char* unit = letter(degrees);
  std::string text = fmt::format(
      "step,from_{0},to_{0},rate_{0}_per_h,minutes,largest_difference_{0},tension_MPa,"
      "retardation_nm_per_cm,nearest_limit,share_of_limit,over,passing_rate_{0}_per_h\n",
      unit);
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const StepResult& step = result.steps[i];
    text += fmt::format(
        "{},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{:.6g},{},{:.6g},{},{}\n",
        i + 1,
        in_degrees(step.from, degrees),
        in_degrees(step.to, degrees),
        in_degrees_per_h(step.rate, degrees),
        in_min(step.duration),
        in_degrees(TemperatureDifference::from_K(step.largest_difference_K), degrees),
        step.tension_Pa * 1e-6,
        step.retardation_nm_per_cm,
        step.limited_by,
        step.nearest_share,
        step.over ? "yes" : "no",
        step.passing_rate ? fmt::format("{:.6g}", in_degrees_per_h(*step.passing_rate, degrees))
                          : std::string{});
  }
  return text;
}

std::string check_keys(const CheckResult& result) {
  const Measured& measured = result.measured;
  std::string text;
  for (std::size_t i = 0; i < result.steps.size(); ++i) {
    const StepResult& step = result.steps[i];
    const std::size_t n = i + 1;
    text += fmt::format("step_{}_to_C = {:.6g}\n", n, step.to.in_C());
    text += fmt::format("step_{}_min = {:.6g}\n", n, in_min(step.duration));
    text += fmt::format("step_{}_max_difference_K = {:.6g}\n", n, step.largest_difference_K);
    text += fmt::format("step_{}_tension_MPa = {:.6g}\n", n, step.tension_Pa * 1e-6);
    text += fmt::format("step_{}_over = {}\n", n, step.over ? "yes" : "no");
    if (step.passing_rate) {
      text += fmt::format(
          "step_{}_passing_rate_C_per_h = {:.6g}\n", n, step.passing_rate->in_K_per_h());
    }
  }
  text += fmt::format("program_h = {:.6g}\n", in_h(result.program_time));
  if (result.opens) text += fmt::format("open_after_h = {:.6g}\n", in_h(result.open_after));
  text += fmt::format("residual_retardation_nm_per_cm = {:.6g}\n",
                      measured.permanent.retardation.in_nm_per_cm());
  text += fmt::format("residual_mid_MPa = {:.6g}\n", measured.permanent.mid_Pa * 1e-6);
  text += fmt::format("residual_surface_MPa = {:.6g}\n", measured.permanent.surface_Pa * 1e-6);
  text +=
      fmt::format("residual_classical_MPa = {:.6g}\n", measured.permanent.classical_mid_Pa * 1e-6);
  text +=
      fmt::format("residual_estimate_MPa = {:.6g}\n", measured.permanent.estimate_mid_Pa() * 1e-6);
  text += fmt::format("structural_factor = {:.6g}\n", measured.permanent.structural_factor());
  text += fmt::format("fictive_temperature_surface_C = {:.6g}\n",
                      Temperature::from_K(measured.permanent.surface_fictive_K).in_C());
  text += fmt::format("fictive_temperature_mid_C = {:.6g}\n",
                      Temperature::from_K(measured.permanent.centre_fictive_K).in_C());
  text += fmt::format("net_force_Pa = {:.3g}\n", measured.permanent.net_stress_Pa);
  text += fmt::format("peak_tension_MPa = {:.6g}\n", measured.peak_tension_Pa * 1e-6);
  text += fmt::format("heat_balance_error = {:.3g}\n", measured.history.heat_balance_error);
  text += fmt::format("verdict = {}\n", word(result.verdict));
  return text;
}

std::string limit_keys(const Limits& limits) {
  return fmt::format(
      "grade_nm_per_cm = {:.6g}\ngrade_reason = {}\n"
      "tension_limit_MPa = {:.6g}\ntension_reason = {}\n",
      limits.grade.in_nm_per_cm(),
      limits.grade_reason,
      limits.tension.in_MPa(),
      limits.tension_reason);
}

}  // namespace thickset

#include "reporting/rewarm_report.h"

#include <algorithm>
#include <chrono>

#include <fmt/format.h>

#include "checking/past.h"
#include "reporting/cautions.h"
#include "reporting/keying.h"
#include "schedule/notation.h"

namespace thickset {
namespace {

/// The larger of what all treatments leave.
double leaves_nm_per_cm(const Reanneal& plan) {
  double most = 0.0;
  for (const Reanneal::Leaves& leaves : plan.leaves) {
    most = std::max(most, leaves.retardation.in_nm_per_cm());
  }
  return most;
}

std::string heating_table(const ReportContext& context, const Reanneal& plan) {
  const Display& display = context.display;
  std::string text = fmt::format("{:>8} {:>8} {:>10} {:>14} {:>18} {:>16}\n",
                                 "from",
                                 "to",
                                 "rate",
                                 "time",
                                 "heating pulls",
                                 "with what's there");
  for (const Rewarm::Heating& step : plan.rewarm.steps) {
    text += fmt::format("{:>8} {:>8} {:>10} {:>14} {:>18} {:>16}\n",
                        show(step.from, display),
                        show(step.to, display),
                        show(step.rate, display),
                        show(seconds((step.to - step.from).in_K() / step.rate.in_K_per_s())),
                        fmt::format("{:.1f} MPa", in_MPa(step.added_Pa)),
                        fmt::format("{:.1f} MPa", in_MPa(step.together_Pa)));
  }
  return text;
}

/// "within the limits", or which of them is not kept.
std::string verdict_of(const ReportContext& context, const Reanneal& plan) {
  if (plan.within) return "Within the limits.";
  const Limits& limits = context.limits;
  std::string over;
  const auto add = [&](bool is_over, const char* what) {
    if (is_over) over += (over.empty() ? "" : ", ") + std::string{what};
  };
  add(plan.rewarm.existing_over, "the tension of what is there and the heating");
  add(!plan.rewarm.existing_over && plan.rewarm.peak_Pa > limits.tension.in_Pa(),
      "the tension while heating");
  add(leaves_nm_per_cm(plan) > limits.grade.in_nm_per_cm(), "what stays");
  add(plan.anneal.tail.check.verdict != Verdict::within, "the tail");
  add(!plan.rewarm.cannot.empty() || !plan.anneal.tail.cannot.empty(), "what can be keyed");
  return fmt::format("Not within the limits: {}.", over);
}

std::string why(const ReportContext& context, const Reanneal& plan, double shown_nm_per_cm) {
  const Display& display = context.display;
  const Rewarm& rewarm = plan.rewarm;
  std::string text = wrapped(fmt::format(
      "The piece shows {:.0f} nm/cm: its centre holds {:.1f} MPa. Heating pulls the centre as "
      "well, "
      "so the two add up until the surface is at the strain point ({}). Limit {:g} MPa: {}.",
      shown_nm_per_cm,
      in_MPa(rewarm.existing_Pa),
      show(context.casting.glass.strain_point.value, display),
      context.limits.tension.in_MPa(),
      context.limits.tension_reason));
  text += '\n';
  if (rewarm.existing_over) {
    text += wrapped(fmt::format(
                "That leaves less than {:.0f} % of the limit to heat with. These rates add {:.2f} "
                "MPa at most to it, and the piece may break at any rate: stay clear of it, and let "
                "nobody "
                "depend on it.",
                100.0 * least_share_added,
                in_MPa(rewarm.allowed_Pa))) +
            '\n';
  }
  const Hold& hold = plan.anneal.tail.hold;
  text += wrapped(fmt::format("At the hold the slowest glass is {} behind when the kiln arrives; "
                              "what is there needs {} to relax to {:.0f} % of the grade, even if "
                              "the sensor reads {} too high.",
                              show_difference(size_of(rewarm.behind), display),
                              show(rewarm.existing_relaxes),
                              100.0 * relaxed_share,
                              show_difference(hold.sensor_tolerance, display))) +
          '\n';
  return text +
         wrapped(fmt::format("The whole firing, simulated from the room on, leaves {:.1f} "
                             "nm/cm, limit {:g}, under the treatment of the bulk that leaves "
                             "most. {}",
                             leaves_nm_per_cm(plan),
                             context.limits.grade.in_nm_per_cm(),
                             verdict_of(context, plan))) +
         '\n';
}

/// From the room to the room.
std::string times_of_whole(const ReportContext& context,
                           const Reanneal& plan,
                           const CheckResult& whole) {
  std::string text = fmt::format("{} of {} steps; heating, hold and tail take {}",
                                 steps_used(plan.whole, context.controller),
                                 context.controller.steps,
                                 show_days(whole.program_time));
  text += whole.opens ? fmt::format("; open no sooner than {} after the start.",
                                    show_days(whole.open_after))
                      : std::string{"; when it may be opened was not found."};
  if (context.start && whole.opens) {
    text += fmt::format(
        " Started {}: earliest opening {}.",
        show(*context.start),
        show(*context.start + std::chrono::ceil<std::chrono::minutes>(whole.open_after)));
  }
  return wrapped(text) + '\n';
}

std::string notes_of_whole(const CheckResult& whole) {
  std::vector<std::string> notes;
  for (const Finding& finding : whole.findings) {
    if (!finding.over && finding.kind != Finding::Kind::other_treatment) {
      notes.push_back(finding.text);
    }
  }
  return listed(notes);
}

/// What practice says beside it.
std::string practice() {
  return wrapped(
             "Common practice, no source: half of a first firing's rate or less. The rates above "
             "come from the tension instead; where a mould is still on, give it with --mould.") +
         '\n';
}

}  // namespace

std::string rewarm_to_do(const ReportContext& context, const Reanneal& plan) {
  const Display& display = context.display;
  std::string text;
  for (const std::string& line : plan.rewarm.cannot) text += wrapped(line) + '\n';
  std::string what = "Heat";
  for (const Rewarm::Heating& step : plan.rewarm.steps) {
    what += fmt::format("{} at {} to {}",
                        step.from == plan.rewarm.steps.front().from ? "" : ", then",
                        show(step.rate, display),
                        show(step.to, display));
  }
  const Hold& hold = plan.anneal.tail.hold;
  what += fmt::format(", hold there for {}, then cool in {} stages.",
                      show(hold.total()),
                      plan.anneal.tail.stages.size());
  return text + wrapped(what) + '\n';
}

std::string rewarm_text(const ReportContext& context,
                        const Reanneal& plan,
                        const CheckResult& whole) {
  const double shown_nm_per_cm =
      context.casting.glass.stress_optical_per_Pa.value * plan.rewarm.existing_Pa * 1e7;
  std::string text = rewarm_to_do(context, plan);
  text += times_of_whole(context, plan, whole);
  text += '\n' + setting_line(context.setting);
  text += keying_table(context.controller, plan.whole);
  text += '\n' + heating_table(context, plan);
  text += '\n' + why(context, plan, shown_nm_per_cm);
  text += practice();
  text += '\n' + cautions_of_warm_glass();
  for (const std::string& line : plan.anneal.tail.cannot) text += '\n' + wrapped(line) + '\n';
  const std::string notes = notes_of_whole(whole);
  if (!notes.empty()) text += "\nNotes:\n" + notes;
  text += "\nThe hold and the tail, from the hold on:\n\n";
  return text + tail_reasons(context, plan.anneal.tail);
}

std::string rewarm_csv(const ReportContext& context, const Reanneal& plan) {
  return write_program(
      plan.whole,
      {fmt::format("heating, hold and tail for {}, {}",
                   describe(context.casting.shape, context.display.lengths),
                   context.casting.glass.title),
       fmt::format("controller: {}; kiln: {}", context.controller.title, context.kiln.title),
       fmt::format("the piece holds {:.2f} MPa before, {:.2f} MPa at most while it is heated",
                   in_MPa(plan.rewarm.existing_Pa),
                   in_MPa(plan.rewarm.peak_Pa)),
       "an estimate, not a guarantee"});
}

std::string rewarm_keys(const ReportContext& context, const Reanneal& plan) {
  const Rewarm& rewarm = plan.rewarm;
  std::string text;
  text += fmt::format("existing_tension_MPa = {:.6g}\n", in_MPa(rewarm.existing_Pa));
  text += fmt::format("heating_tension_MPa = {:.6g}\n", in_MPa(rewarm.peak_Pa));
  text += fmt::format("existing_relaxes_h = {:.6g}\n", in_h(rewarm.existing_relaxes));
  for (std::size_t i = 0; i < rewarm.steps.size(); ++i) {
    const Rewarm::Heating& step = rewarm.steps[i];
    text += fmt::format("heating_{}_to_C = {:.6g}\n", i + 1, step.to.in_C());
    text += fmt::format("heating_{}_rate_C_per_h = {:.6g}\n", i + 1, step.rate.in_K_per_h());
    text += fmt::format("heating_{}_tension_MPa = {:.6g}\n", i + 1, in_MPa(step.together_Pa));
  }
  text += fmt::format("rewarm_leaves_nm_per_cm = {:.6g}\n", leaves_nm_per_cm(plan));
  text += fmt::format("rewarm_within = {}\n", plan.within ? "yes" : "no");
  return text + tail_keys(context, plan.anneal.tail);
}

}  // namespace thickset

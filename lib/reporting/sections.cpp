#include "reporting/sections.h"

#include <algorithm>

#include <fmt/format.h>

#include "checking/remedy.h"
#include "stress/permanent_estimate.h"

namespace thickset {
namespace {

std::string keyed_minutes(Duration duration) {
  return fmt::format("{:.0f} min", in_min(duration));
}

/// How the ramp of a step is keyed: "4 °C/h", "1006 min" or the digits for as fast as possible.
std::string keyed_pace(const Step& step, const Controller& controller, const Display& keyed) {
  if (std::holds_alternative<AsFastAsPossible>(step.pace)) {
    return controller.as_fast_key ? fmt::format("key {}", *controller.as_fast_key)
                                  : std::string{"as fast as it goes"};
  }
  if (const Rate* rate = std::get_if<Rate>(&step.pace)) {
    return fmt::format("{:g} °{}/h", in_degrees_per_h(*rate, keyed.degrees), letter(keyed.degrees));
  }
  return keyed_minutes(std::get<Duration>(step.pace));
}

std::string purpose(const Step& step) {
  return step.comment.empty() ? std::string{} : "  " + step.comment;
}

std::string by_time(const ReportContext& context, const Program& program, const Display& keyed) {
  std::string text = fmt::format("  {:>4}  {:>8}  {:>18}\n", "step", "target", "time");
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    text += fmt::format("  {:>4}  {:>8}  {:>18}{}\n",
                        i + 1,
                        show(step.target, keyed),
                        keyed_pace(step, context.controller, keyed),
                        purpose(step));
  }
  return text;
}

std::string by_rate(const ReportContext& context, const Program& program, const Display& keyed) {
  std::string text =
      fmt::format("  {:>4}  {:>18}  {:>8}  {:>9}\n", "step", "rate", "target", "hold");
  for (std::size_t i = 0; i < program.steps.size(); ++i) {
    const Step& step = program.steps[i];
    text += fmt::format("  {:>4}  {:>18}  {:>8}  {:>9}{}\n",
                        i + 1,
                        keyed_pace(step, context.controller, keyed),
                        show(step.target, keyed),
                        keyed_minutes(step.hold),
                        purpose(step));
  }
  return text;
}

std::string by_lines(const ReportContext& context, const Program& program, const Display& keyed) {
  std::string text = fmt::format("  {:>4}  {:<5}  {:>18}  {:>8}\n", "line", "", "", "target");
  int line = 0;
  for (const Step& step : program.steps) {
    text += fmt::format("  {:>4}  {:<5}  {:>18}  {:>8}{}\n",
                        ++line,
                        "ramp",
                        keyed_pace(step, context.controller, keyed),
                        show(step.target, keyed),
                        purpose(step));
    if (step.hold.count() > 0.0) {
      text += fmt::format("  {:>4}  {:<5}  {:>18}\n", ++line, "hold", keyed_minutes(step.hold));
    }
  }
  return text;
}

}  // namespace

const char* word(Verdict verdict) {
  return verdict == Verdict::within ? "within" : "over";
}

std::string made_for(const ReportContext& context) {
  return wrapped(fmt::format("For: {}; {}; kiln: {}; limits {:g} nm/cm and {:g} MPa; room {}.",
                             describe(context.casting.shape, context.display.lengths),
                             context.casting.glass.title,
                             context.kiln.title,
                             context.limits.grade.in_nm_per_cm(),
                             context.limits.tension.in_MPa(),
                             show(context.firing.room, context.display))) +
         '\n';
}

std::string keying_table(const ReportContext& context, const Program& program) {
  const Controller& controller = context.controller;
  const Display keyed{.degrees = program.degrees, .lengths = context.display.lengths};
  std::string text = wrapped("Key into the controller (" + controller.title + "):") + "\n";
  if (program.start) {
    text += fmt::format("  start setpoint {}\n", show(*program.start, keyed));
  } else {
    text += "  it starts from the reading: begin at the end of the process hold\n";
  }
  switch (controller.step_form) {
    case Controller::StepForm::target_minutes: text += by_time(context, program, keyed); break;
    case Controller::StepForm::rate_target_hold: text += by_rate(context, program, keyed); break;
    case Controller::StepForm::ramp_and_hold_lines:
      text += by_lines(context, program, keyed);
      break;
  }
  text += controller.end_key.empty() ? std::string{"  after the last step: nothing to key"}
                                     : "  after the last step: key " + controller.end_key;
  switch (controller.after_end) {
    case Controller::AfterEnd::off: text += "; the kiln then goes off\n"; break;
    case Controller::AfterEnd::holds:
      text += "; it then holds the last target until you switch it off\n";
      break;
    case Controller::AfterEnd::returns:
      text += "; it then goes back to its main setpoint: set that to room temperature first\n";
      break;
  }
  if (!controller.late_on_cooling_known) {
    text += wrapped(
                "  What it does when the kiln is late on cooling is not known: taken as going "
                "on by the clock.") +
            '\n';
  }
  return text;
}

std::string stress_section(const ReportContext& context, const CheckResult& result) {
  const PermanentStress& permanent = result.measured.permanent;
  std::string text =
      "Stress (elastic from the computed temperatures; the permanent part is an\n"
      "estimate):\n";
  text += fmt::format("  permanent, seen edge-on  {:6.1f} nm/cm   limit {:g}\n",
                      permanent.retardation.in_nm_per_cm(),
                      context.limits.grade.in_nm_per_cm());
  text +=
      fmt::format("    tension at the core    {:6.2f} MPa, compression at the surface {:.2f} MPa\n",
                  permanent.mid_Pa * 1e-6,
                  -permanent.surface_Pa * 1e-6);
  text += fmt::format(
      "    classical formula      {:6.2f} MPa, times {:.2f} for structure = {:.2f} MPa\n",
      permanent.classical_mid_Pa * 1e-6,
      permanent.structural_factor,
      permanent.mid_Pa * 1e-6);
  text += fmt::format("  largest tension while cooling  {:.1f} MPa   limit {:g}\n",
                      result.measured.peak_tension_Pa * 1e-6,
                      context.limits.tension.in_MPa());
  if (!std::holds_alternative<Slab>(context.casting.governing_shape())) {
    text +=
        "  nm/cm are slab-equivalent: the largest tension at the centre as a slab would\n"
        "  show it (the centre of a ball shows nothing)\n";
  }
  text += fmt::format("  heat balance: {:.0e} of all heat exchanged is unaccounted for\n",
                      result.measured.history.heat_balance_error);
  return text;
}

std::string equivalents_section(const ReportContext& context) {
  const Casting& casting = context.casting;
  const Display& display = context.display;
  const EquivalentSlabs slabs = equivalent_slabs(casting.governing_shape());
  std::string text = fmt::format("Thickness (largest ball that fits): {}\n",
                                 show(largest_ball(casting.governing_shape()), display));
  if (casting.reservoir_governs()) {
    text += wrapped(fmt::format("The reservoir ({}) is thicker than the piece ({}) and governs: it "
                                "is planned for as a slab of its own thickness.",
                                show(*casting.reservoir, display),
                                show(largest_ball(casting.shape), display))) +
            '\n';
  }
  text += fmt::format(
      "Slabs that stand for the shape, each for what it is right for:\n"
      "  {:>8}  same difference core to surface: rates, tension\n"
      "  {:>8}  same slowest evening out: the hold\n"
      "  {:>8}  same permanent tension at the centre: nm/cm\n",
      show(slabs.steady_difference, display),
      show(slabs.slowest_mode, display),
      show(slabs.permanent_tension, display));
  return text;
}

std::string assumptions_section(const ReportContext& context) {
  std::vector<std::string> lines = assumed_values(context.casting.glass);
  for (const std::string& line : context.kiln.assumed) lines.push_back(line);
  lines.push_back(fmt::format("glass and kiln are even at {} and free of stress at the start",
                              show(context.firing.from, context.display)));
  lines.push_back("faces against a core, shelf or mould do not cool: only the faces you named do");
  std::string text = "Assumed, since not given:\n" + listed(lines);
  if (!context.casting.glass.warnings.empty()) {
    text += "About this glass:\n" + listed(context.casting.glass.warnings);
  }
  return text;
}

}  // namespace thickset

#include <algorithm>

#include <fmt/format.h>

#include "checking/opening.h"
#include "checking/remedy.h"
#include "reporting/bow_section.h"
#include "reporting/cautions.h"
#include "reporting/how_sure_section.h"
#include "reporting/keying.h"
#include "reporting/prices.h"
#include "reporting/report.h"
#include "reporting/sections.h"
#include "reporting/shape_stress_section.h"
#include "reporting/solid_section.h"
#include "reporting/walls_section.h"
#include "schedule/notation.h"

namespace thickset {
namespace {

Duration tail_time(const Tail& tail) {
  Duration time = tail.check.opens ? tail.check.open_after : tail.check.program_time;
  for (const CheckResult& other : tail.others) time = std::max(time, other.open_after);
  return time;
}

bool opens(const Tail& tail) {
  const auto of = [](const CheckResult& result) { return result.opens; };
  return of(tail.check) && std::all_of(tail.others.begin(), tail.others.end(), of);
}

/// ", resting 24 h 0 min at 430 C"; empty where it does not rest.
std::string rests_in_words(const Tail& tail, const Display& display) {
  std::string text;
  for (const Stage& stage : tail.stages) {
    if (in_s(stage.rest) == 0.0) continue;
    text += text.empty() ? ", resting " : " and ";
    text += fmt::format("{} at {}", show(stage.rest), show(stage.to, display));
  }
  return text;
}

std::string stage_table(const ReportContext& context, const Tail& tail) {
  const Display& display = context.display;
  const Program& keyed = tail.fitted.program;
  std::string text = fmt::format("{:<7} {:>7} {:>7} {:>9} {:>12} {:>9} {:>7}  {}\n",
                                 "stage",
                                 "from",
                                 "to",
                                 "rate",
                                 "time",
                                 "core-surf",
                                 "tension",
                                 "limited by");
  const Temperature start = start_of(keyed, context.firing);
  const auto row = [&](const char* name,
                       const std::string& rate,
                       const std::vector<std::size_t>& at,
                       const std::string& limit,
                       Duration rest = Duration{0.0}) {
    if (at.empty()) return;  // in whole numbers nothing of it is left to key
    Duration time = -rest;   // has a row of its own
    double difference_K = 0.0;
    double tension_Pa = 0.0;
    for (const std::size_t i : at) {
      const StepResult& step = tail.check.steps[i];
      time += step.duration;
      difference_K = std::max(difference_K, step.largest_difference_K);
      tension_Pa = std::max(tension_Pa, step.tension_Pa);
    }
    // Of a reheated piece the hold is planned as if it had come from above.
    const Temperature from = context.reheated && at.front() == 0
                                 ? keyed.steps[at.back()].target
                                 : keyed_step(keyed, at.front(), start).from;
    text += fmt::format(
        "{:<7} {:>7} {:>7} {:>9} {:>12} {:>9} {:>7}  {}\n",
        name,
        show(from, display),
        show(keyed.steps[at.back()].target, display),
        rate,
        show(time),
        show_difference(TemperatureDifference::from_K(difference_K), display),
        tension_Pa > 0.0 ? fmt::format("{:.1f} MPa", tension_Pa * 1e-6) : std::string{"-"},
        limit);
  };
  const auto steps_of = [&](int planned) {
    std::vector<std::size_t> at;
    for (std::size_t i = 0; i < tail.fitted.from_step.size(); ++i) {
      if (tail.fitted.from_step[i] == planned) at.push_back(i);
    }
    return at;
  };
  row("hold", "", steps_of(0), "core arriving");
  for (std::size_t i = 0; i < tail.stages.size(); ++i) {
    const Stage& stage = tail.stages[i];
    row(name_of(stage.kind),
        show(stage.rate, display),
        steps_of(static_cast<int>(i) + 1),
        name_of(stage.limiting),
        stage.rest);
    if (in_s(stage.rest) == 0.0) continue;
    text += fmt::format("{:<7} {:>7} {:>7} {:>9} {:>12} {:>9} {:>7}  {}\n",
                        "rest",
                        show(stage.to, display),
                        show(stage.to, display),
                        "",
                        show(stage.rest),
                        "",
                        "",
                        name_of(stage.limiting_rest));
  }
  return text;
}

/// How many steps it takes, when the program ends and when the kiln may be opened.
std::string ends(const ReportContext& context, const Tail& tail) {
  const Display& display = context.display;
  std::string text;
  const std::string by_heat_up =
      context.heat_up_steps > 0 ? fmt::format(", {} by your heat-up", context.heat_up_steps) : "";
  text += wrapped(fmt::format("{} of {} steps used{}. Program ends after {}, {}.",
                              context.heat_up_steps + tail.steps_used,
                              context.controller.steps,
                              by_heat_up,
                              show_days(tail.check.program_time),
                              kiln_at_end(tail.check, tail.fitted.program, display))) +
          '\n';
  if (opens(tail)) {
    text +=
        wrapped(fmt::format(
            "Earliest opening after {}: the slowest glass is then at most {} and within {} of the "
            "room, as computed; the display alone does not tell.",
            show_days(tail_time(tail)),
            show(opening_limit(context.firing.room), display),
            show_difference(TemperatureDifference::from_K(opening_above_room_K), display))) +
        '\n';
  } else {
    text += "Within the time computed the glass does not get cool enough to open.\n";
  }
  return text;
}

std::string totals(const ReportContext& context, const Tail& tail) {
  const Display& display = context.display;
  std::string text = context.reheated ? std::string{} : ends(context, tail);
  if (tail.cannot.empty()) {
    text += wrapped(price_of_one_fewer(tail)) + '\n';
    text += wrapped(price_of_limits(tail, context.limits)) + '\n';
  }
  text += wrapped(fmt::format(
              "First guess, from formulas alone: setting {}, run-out {}; the simulation "
              "corrected it.",
              show(tail.estimate.setting, display),
              show(tail.estimate.run_out, display))) +
          '\n';
  return text;
}

std::string why_the_hold(const ReportContext& context, const Hold& hold) {
  const Display& display = context.display;
  std::string rest = fmt::format("{} rounding", show(hold.margin));
  if (in_s(hold.short_by) > 0.0) {
    rest = fmt::format("together {} more than you fixed", show(hold.short_by));
  } else if (in_min(hold.margin) >= 1.0) {
    rest = fmt::format("{} more {}",
                       show(hold.margin),
                       context.reheated ? "for what the piece held before" : "since you fixed it");
  }
  return wrapped(fmt::format(
             "The hold: {} for the slowest glass to arrive (it is {} behind when the kiln gets "
             "there), {} to even out, {} to relax (estimate: {}) even if the sensor reads {} "
             "wrong, {}.",
             show(hold.arriving),
             show_difference(size_of(hold.behind_on_arrival), display),
             show(hold.evening),
             show(hold.relaxing),
             show(hold.relaxing_estimate),
             show_difference(hold.sensor_tolerance, display),
             rest)) +
         '\n';
}

/// What one casting of a mixed load gets, worst of the treatments of the bulk.
struct Gets {
  double left_nm_per_cm = 0.0;
  double tension_MPa = 0.0;
};
Gets gets(const CheckResult& result) {
  Gets worst;
  for (const CheckResult::OfTreatment& of : result.treatments) {
    worst.left_nm_per_cm = std::max(worst.left_nm_per_cm, of.retardation.in_nm_per_cm());
    worst.tension_MPa = std::max(worst.tension_MPa, of.peak_tension_Pa * 1e-6);
  }
  return worst;
}

std::string load_keys(const Tail& tail) {
  if (tail.others.empty()) return {};
  std::string text = fmt::format("governing_casting = {}\n", tail.governing + 1);
  for (std::size_t i = 0; i <= tail.others.size(); ++i) {
    const CheckResult& result = i == 0 ? tail.check : tail.others[i - 1];
    const Gets of = gets(result);
    const std::string name = fmt::format("casting_{}", i + 1);
    text += fmt::format("{}_retardation_nm_per_cm = {:.6g}\n", name, of.left_nm_per_cm);
    text += fmt::format("{}_tension_MPa = {:.6g}\n", name, of.tension_MPa);
    text += fmt::format("{}_verdict = {}\n", name, word(result.verdict));
  }
  return text;
}

}  // namespace

std::string tail_to_do(const ReportContext& context, const Tail& tail) {
  const Display& display = context.display;
  if (!tail.cannot.empty()) {
    std::string text = "No tail for this controller keeps the limits:\n" + listed(tail.cannot);
    if (!tail.fitted.nearer.empty() && context.heat_up_steps == 0)
      text += "What would come nearer:\n" + listed(tail.fitted.nearer);
    if (context.heat_up_steps > 0) text += "Steps are counted here from the first of the tail.\n";
    return text + "What follows is the nearest that can be keyed.\n";
  }
  std::string text;
  if (in_s(tail.hold.short_by) > 0.0) {
    text +=
        wrapped(fmt::format("Not recommended: the hold you fixed is {} too short; {} were found "
                            "to be needed. As you fixed it:",
                            show(tail.hold.short_by),
                            show(tail.hold.needed()))) +
        '\n';
  }
  text += wrapped(fmt::format("Hold at {} for {}, then cool in {} stage{}{}; {}.",
                              show(tail.hold.temperature, display),
                              show(tail.hold.total()),
                              tail.stages.size(),
                              tail.stages.size() == 1 ? "" : "s",
                              rests_in_words(tail, display),
                              opens(tail) ? fmt::format("open no sooner than {} after {}",
                                                        show_days(tail_time(tail)),
                                                        counted_from(context))
                                          : std::string{"when it may be opened was not found"}));
  text += '\n';
  if (context.in_doubt) {
    text += hold_doubt_sentence(context, tail.hold) + '\n' +
            wrapped(
                "A tail with that hold: --hold. Where slow cooling may end, the lower end of "
                "the range decides: `thickset sure` counts both.") +
            '\n';
  }
  if (context.start && opens(tail)) {
    text += fmt::format(
        "Started {}: earliest opening {}.\n",
        show(*context.start),
        show(*context.start + std::chrono::ceil<std::chrono::minutes>(tail_time(tail))));
  }
  return text + context.waking;
}

std::string load_section(const ReportContext& context, const Tail& tail) {
  const auto line = [&](const Casting& casting, const CheckResult& result, bool governs) {
    const Gets of = gets(result);
    return wrapped(fmt::format("- {}{}: {:.1f} nm/cm, {:.1f} MPa, {}{}",
                               describe(casting.shape, context.display.lengths),
                               with_walls(casting, context.display.lengths),
                               of.left_nm_per_cm,
                               of.tension_MPa,
                               word(result.verdict),
                               governs ? "; it governs" : "")) +
           '\n';
  };
  std::string text = "In this kiln, worst of the treatments of the bulk:\n";
  text += line(context.casting, tail.check, tail.governing == 0);
  for (std::size_t i = 0; i < context.others.size(); ++i) {
    text += line(context.others[i], tail.others[i], tail.governing == i + 1);
  }
  return text;
}

std::vector<std::string> tail_notes(const Tail& tail) {
  std::vector<std::string> lines = tail.notes;
  lines.insert(lines.end(), tail.hold.notes.begin(), tail.hold.notes.end());
  for (const Finding& finding : tail.check.findings) lines.push_back(finding.text);
  return lines;
}

std::string tail_text(const ReportContext& context, const Tail& tail) {
  std::string text = short_of_confidence(context) + tail_to_do(context, tail);
  text += '\n' + setting_line(context.setting);
  text += keying_table(context.controller, tail.fitted.program, context.heat_up_steps);
  return text + '\n' + tail_reasons(context, tail);
}

std::string tail_reasons(const ReportContext& context, const Tail& tail) {
  std::string text = stage_table(context, tail);
  text += '\n' + totals(context, tail);
  text += why_the_hold(context, tail.hold);
  if (!context.others.empty()) text += '\n' + load_section(context, tail);
  if (context.casting.walls) {
    text += '\n' + glass_at_step_ends(context, tail.check);
    text += '\n' + walls_section(context, tail.hold.needed());
  }
  text += '\n' + made_for(context);
  text += '\n' + stress_section(context, tail.check);
  text += how_sure_paragraph(context);
  text += bow_section(context, tail.check);
  if (context.treatments) {
    text += '\n' + treatments_section(context, *context.treatments);
    text += shape_stress_section(context);
    if (tail.cannot.empty()) text += '\n' + prices_section(tail, context.limits);
  }
  text += '\n' + equivalents_section(context);
  text += '\n' + assumptions_section(context);
  const std::vector<std::string> notes = tail_notes(tail);
  if (!notes.empty() && !context.reheated) text += "\nNotes:\n" + listed(notes);
  return text + '\n' + short_cautions();
}

std::string tail_csv(const ReportContext& context, const Tail& tail) {
  const PermanentStress& permanent = tail.check.measured.permanent;
  std::vector<std::string> comments = {
      fmt::format("tail for {}{}, {}",
                  describe(context.casting.shape, context.display.lengths),
                  with_walls(context.casting, context.display.lengths),
                  context.casting.glass.title),
      fmt::format("controller: {}; kiln: {}", context.controller.title, context.kiln.title),
      fmt::format("starts even at {}; room {}",
                  show(context.firing.from, context.display),
                  show(context.firing.room, context.display)),
      fmt::format("simulated: {:.1f} nm/cm permanent, {:.2f} MPa largest tension, {}",
                  permanent.retardation.in_nm_per_cm(),
                  tail.check.measured.peak_tension_Pa * 1e-6,
                  word(tail.check.verdict)),
      "an estimate, not a guarantee"};
  if (in_s(tail.hold.short_by) > 0.0) {
    comments.push_back(fmt::format("not recommended: the hold as fixed is {} too short",
                                   show(tail.hold.short_by)));
  }
  if (context.for_confidence) {
    comments.push_back(
        fmt::format("planned for {:g} of 100 within each limit{}: {:.1f} of nm/cm, "
                    "{:.1f} of MPa",
                    100.0 * context.confidence,
                    context.for_confidence->reached ? "" : ", which is not reached",
                    100.0 * context.how_sure->residual.share(),
                    100.0 * context.how_sure->tension.share()));
  }
  for (const std::string& line : tail.cannot) comments.push_back("cannot: " + line);
  return write_program(tail.fitted.program, comments);
}

std::string tail_keys(const ReportContext& context, const Tail& tail) {
  std::string text = hold_keys(tail.hold);
  for (std::size_t i = 0; i < tail.stages.size(); ++i) {
    const Stage& stage = tail.stages[i];
    const std::size_t n = i + 1;
    text += fmt::format("stage_{}_kind = {}\n", n, name_of(stage.kind));
    text += fmt::format("stage_{}_to_C = {:.6g}\n", n, stage.to.in_C());
    text += fmt::format("stage_{}_rate_C_per_h = {:.6g}\n", n, stage.rate.in_K_per_h());
    text += fmt::format("stage_{}_limit = {}\n", n, name_of(stage.limiting));
    if (in_s(stage.rest) == 0.0) continue;
    text += fmt::format("stage_{}_rest_min = {:.6g}\n", n, in_min(stage.rest));
    text += fmt::format("stage_{}_rest_limit = {}\n", n, name_of(stage.limiting_rest));
  }
  text += fmt::format("tail_h = {:.6g}\n", in_h(tail_time(tail)));
  text += fmt::format("steps_used = {}\n", tail.steps_used);
  text += price_keys(tail, context.limits);
  text += load_keys(tail);
  text += solid_keys(context.casting);
  text += fmt::format("heat_up_steps = {}\n", context.heat_up_steps);
  if (!context.setting.empty()) {
    text += fmt::format("controller_setting = {}\n", setting_name(context.controller));
  }
  text += fmt::format("can_be_keyed = {}\n", tail.cannot.empty() ? "yes" : "no");
  text += hold_walls_keys(context, tail.hold.needed());
  return text + check_keys(tail.check) + check_walls_keys(context) + bow_keys(context, tail.check);
}

}  // namespace thickset

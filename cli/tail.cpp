#include "planning/confident_tail.h"

#include <algorithm>
#include <cstdio>
#include <optional>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text_file.h"
#include "commands.h"
#include "how_sure.h"
#include "inputs.h"
#include "planning/hold_choice.h"
#include "progress_line.h"
#include "record.h"
#include "reporting/how_sure_section.h"
#include "reporting/keying.h"
#include "reporting/keying_card.h"
#include "reporting/page/firing_page.h"
#include "reporting/report.h"
#include "reporting/sketches.h"
#include "sketching.h"
#include "units/spoken.h"

namespace thickset::cli {
namespace {

constexpr const char* name_of_planned = "the tail as keyed";

Rate slowest_rate(const std::vector<Stage>& stages) {
  Rate slowest = stages.front().rate;
  for (const Stage& stage : stages) slowest = std::min(slowest, stage.rate);
  return slowest;
}

/// What somebody wants to be there for.
std::vector<MomentToLookIn> moments_of(const Tail& planned, int heat_up_steps) {
  std::vector<MomentToLookIn> moments;
  const std::size_t steps = planned.fitted.program.steps.size();
  for (std::size_t i = 1; i < steps; ++i) {
    moments.push_back({fmt::format("step {} begins", static_cast<int>(i) + 1 + heat_up_steps),
                       seconds(planned.check.measured.steps[i].start_s)});
  }
  moments.push_back({"the program ends", planned.check.program_time});
  if (planned.check.opens) moments.push_back({"it may be opened", planned.check.open_after});
  return moments;
}

/// A heat-up with a cool-down of its own would be keyed before the tail.
HeatUp hot_heat_up(const Options& options, const Glass& glass) {
  HeatUp heat_up = load_heat_up(options);
  if (!heat_up.program) return heat_up;
  const Temperature last = heat_up.program->steps.back().target;
  const Degrees shown = heat_up.program->degrees;
  if (last < glass.annealing_point.value) {
    throw Error{heat_up.place,
                fmt::format("your heat-up ends at {}, below the annealing point ({})",
                            spoken(last, shown),
                            spoken(glass.annealing_point.value, shown)),
                "end it with the process hold: what comes after that is planned here"};
  }
  return heat_up;
}

/// A tail and, where one was asked for, what it was planned for and how sure it is.
struct PlannedTail {
  TailInSetting chosen;
  std::optional<HowSure> how_sure{};
  std::optional<ForConfidence> for_confidence{};
};

PlannedTail plan(const Options& options,
                 const std::vector<Casting>& load,
                 const Kiln& kiln,
                 const TailRequest& request) {
  const Controller controller = load_controller(options);
  const HeatUp heat_up = hot_heat_up(options, load.front().glass);
  if (!options.sure.asked) {
    return {plan_tail_in_settings(load, kiln, controller, request, heat_up, options.degrees)};
  }
  std::vector<std::string> titles;
  for (const Casting& casting : load) {
    titles.push_back(study_title(casting, kiln, name_of_planned, options.lengths));
  }
  ConfidentTail found =
      plan_confident_tail(load,
                          kiln,
                          controller,
                          request,
                          heat_up,
                          options.degrees,
                          {.chance = options.sure.confidence, .threads = options.sure.threads},
                          titles);
  return {std::move(found.planned),
          std::move(found.sure),
          ForConfidence{std::move(found.aimed_at), found.reached}};
}

}  // namespace

ExitStatus tail(const Options& options) {
  const std::vector<Casting> load = load_castings(options);
  const Casting& casting = load.front();
  refuse_pictures(options.pictures, casting);
  refuse_record(options, casting);
  const Kiln kiln = load_kiln(options);
  std::optional<ProgressLine> line{std::in_place, stderr, is_terminal(stderr)};
  const TailRequest request{.limits = options.limits,
                            .firing = options.firing,
                            .hold_temperature = options.hold_at,
                            .hold_length = options.hold,
                            .stages = options.stages,
                            .steps = options.steps,
                            .fewest_steps = options.fewest_steps,
                            .all_prices = options.explain,
                            .bulks = bulks_held_to(options),
                            .progress = [&](const std::string& what) { line->say(what); }};
  const PlannedTail found = plan(options, load, kiln, request);
  const TailInSetting& chosen = found.chosen;
  line.reset();
  const Controller& controller = chosen.set_to;
  const Tail& planned = chosen.tail;

  std::optional<Treatments> treatments;
  if (options.explain) {
    treatments = compare_treatments(
        casting, kiln, controller.late_on_cooling, planned.fitted.program, options.firing);
  }
  deliver_history(options, planned.check.measured);
  ReportContext context{.casting = casting,
                        .kiln = kiln,
                        .controller = controller,
                        .firing = options.firing,
                        .limits = options.limits,
                        .display = {options.degrees.value_or(controller.degrees), options.lengths},
                        .start = options.start,
                        .treatments = treatments,
                        .heat_up_steps = chosen.heat_up_steps,
                        .setting = chosen.choice,
                        .controller_assumed = !options.controller,
                        .others = std::span{load}.subspan(1)};
  if (!casting.glass.annealing_point_uncertainty.assumed && load.size() == 1 && !options.hold) {
    context.in_doubt = with_doubt({HoldOption{.hold = planned.hold}},
                                  {&casting, 1},
                                  kiln,
                                  options.firing,
                                  options.limits,
                                  context.display.degrees)
                           .front();
  }
  if (options.awake) {
    const WakingStart moved =
        waking_start(*options.start, *options.awake, moments_of(planned, chosen.heat_up_steps));
    context.start = moved.start;
    context.waking = waking_section(*options.start, *options.awake, moved);
  }
  if (casting.walls) {
    // Of a mixed load the hold is another's as well.
    if (load.size() == 1) {
      context.hold_in_walls = hold_in_walls(casting,
                                            kiln,
                                            options.firing,
                                            slowest_rate(planned.stages),
                                            planned.hold.temperature,
                                            context.display.degrees);
    }
    context.if_walls_conduct = if_walls_conduct(casting,
                                                kiln,
                                                controller.late_on_cooling,
                                                planned.fitted.program,
                                                options.firing,
                                                options.limits,
                                                bulks_held_to(options));
  }
  if (found.how_sure) {
    context.confidence = options.sure.confidence;
    context.how_sure = found.how_sure;
    context.for_confidence = found.for_confidence;
  } else {
    // Of a mixed load the casting that comes nearest to a limit.
    const std::size_t governing = planned.governing;
    const CheckResult& result = governing == 0 ? planned.check : planned.others[governing - 1];
    add_how_sure(options,
                 load[governing],
                 result,
                 course_of(result.measured, start_of(planned.fitted.program, options.firing)),
                 name_of_planned,
                 context);
  }
  const Pictures& pictures = options.pictures;
  if (pictures.page) {
    write_text_file(*pictures.page, tail_page(context, planned, pictures.request));
  }
  if (pictures.chart) {
    write_text_file(*pictures.chart,
                    tail_chart(context, planned, pictures.chart_of, pictures.request));
  }
  if (options.record) {
    const std::string planned_csv = tail_csv(context, planned);
    put_record(options,
               context,
               {.command = "check",
                .keys = check_keys(planned.check) + limit_keys(options.limits),
                .keyed = keying_table(controller, planned.fitted.program, chosen.heat_up_steps)},
               &planned_csv);
  }
  switch (options.format) {
    case Format::text: {
      std::string text = options.card ? tail_card(context, planned) : tail_text(context, planned);
      if (const std::optional<SketchStyle> style = wanted_sketch(options)) {
        text += '\n' + tail_sketch(context, planned, *style);
      }
      deliver(options, text);
      break;
    }
    case Format::csv: deliver(options, tail_csv(context, planned)); break;
    case Format::keys:
      deliver(options,
              tail_keys(context, planned) + how_sure_keys(context) + limit_keys(options.limits));
      break;
  }
  const auto within = [](const CheckResult& result) { return result.verdict == Verdict::within; };
  const bool keeps_limits = planned.cannot.empty() && within(planned.check) &&
                            std::all_of(planned.others.begin(), planned.others.end(), within);
  const bool hold_suffices = !(in_s(planned.hold.short_by) > 0.0);
  const bool sure_enough = !found.for_confidence || found.for_confidence->reached;
  return keeps_limits && hold_suffices && sure_enough ? fine : over_a_limit;
}

}  // namespace thickset::cli

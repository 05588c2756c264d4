#include <optional>
#include <string>

#include "base/text_file.h"
#include "checking/check.h"
#include "commands.h"
#include "inputs.h"
#include "progress_line.h"
#include "reporting/keying_card.h"
#include "reporting/page/firing_page.h"
#include "reporting/report.h"
#include "reporting/rewarm_report.h"
#include "reporting/sketches.h"
#include "sketching.h"

namespace thickset::cli {

ExitStatus rewarm(const Options& options) {
  const Casting casting = load_casting(options);
  const Kiln kiln = load_kiln(options);
  std::optional<ProgressLine> line{std::in_place, stderr, is_terminal(stderr)};
  const Reanneal plan =
      plan_reanneal(casting,
                    kiln,
                    load_controller(options),
                    {.limits = options.limits,
                     .firing = options.firing,
                     .hold_temperature = options.hold_at,
                     .hold_length = options.hold,
                     .steps = options.steps,
                     .fewest_steps = options.fewest_steps,
                     .bulks = bulks_held_to(options),
                     .progress = [&](const std::string& what) { line->say(what); }},
                    *options.retardation,
                    options.degrees);
  line.reset();
  const Controller& controller = plan.anneal.set_to;
  const ReportContext context{
      .casting = casting,
      .kiln = kiln,
      .controller = controller,
      .firing = plan.tail_firing,
      .limits = options.limits,
      .display = {options.degrees.value_or(controller.degrees), options.lengths},
      .start = options.start,
      .heat_up_steps = plan.anneal.heat_up_steps,
      .reheated = true,
      .setting = plan.anneal.choice,
      .controller_assumed = !options.controller};
  Firing cold = options.firing;
  cold.from = options.firing.room;
  const CheckResult whole = thickset::check(casting,
                                            kiln,
                                            controller.late_on_cooling,
                                            plan.whole,
                                            cold,
                                            options.limits,
                                            false,
                                            context.display.degrees,
                                            bulks_held_to(options));
  ReportContext from_cold = context;
  from_cold.firing = cold;
  from_cold.heat_up_steps = 0;
  from_cold.reheated = false;
  if (options.pictures.page) {
    write_text_file(*options.pictures.page,
                    rewarm_page(from_cold, plan, whole, options.pictures.request));
  }
  if (options.card) {
    deliver(options, rewarm_card(from_cold, plan, whole));
    return plan.within ? fine : over_a_limit;
  }
  switch (options.format) {
    case Format::text: {
      std::string text = rewarm_text(context, plan, whole);
      if (const std::optional<SketchStyle> style = wanted_sketch(options)) {
        text += '\n' + rewarm_sketch(from_cold, plan, whole, *style);
      }
      deliver(options, text);
      break;
    }
    case Format::csv: deliver(options, rewarm_csv(context, plan)); break;
    case Format::keys:
      deliver(options, rewarm_keys(context, plan) + limit_keys(options.limits));
      break;
  }
  return plan.within ? fine : over_a_limit;
}

}  // namespace thickset::cli

#include "checking/check_log.h"

#include <utility>

#include "base/error.h"
#include "base/text_file.h"
#include "checking/notes.h"
#include "commands.h"
#include "how_sure.h"
#include "inputs.h"
#include "progress_line.h"
#include "record.h"
#include "reporting/how_sure_section.h"
#include "reporting/log_report.h"
#include "reporting/page/firing_page.h"
#include "reporting/report.h"
#include "reporting/sketches.h"
#include "reporting/walls_section.h"
#include "schedule/notation.h"
#include "schedule/read_log.h"
#include "sketching.h"

namespace thickset::cli {
namespace {

/// Options that are about a program, where a log is checked.
void refuse_of_log(const Options& options) {
  if (options.card) {
    throw Error{{.source = "--card"},
                "a log has no steps to key",
                "leave it out, or check the program itself"};
  }
  if (options.plan) return;
  const char* mend = "leave it out, or name the program that was meant with --plan";
  if (options.controller) {
    throw Error{{.source = "--controller"}, "a log needs no controller", mend};
  }
  if (options.from_given) {
    throw Error{{.source = "--from"}, "a log begins at its first reading", mend};
  }
}

}  // namespace

ExitStatus check_log(const Options& options, const InputText& input) {
  refuse_of_log(options);
  const Casting casting = load_casting(options);
  refuse_pictures(options.pictures, casting);
  refuse_record(options, casting);
  const Kiln kiln = load_kiln(options);
  const Controller controller = load_controller(options);
  ProgressLine line{stderr, is_terminal(stderr)};
  const Progress progress = [&](const std::string& what) { line.say(what); };
  FiringLog log = parse_log(input.text, input.source, options.sensor.value_or(""), progress);
  if (options.start) {
    if (log.clock) {
      throw Error{{.source = "--start"},
                  "the log tells the time of day itself",
                  "leave it out; it is for logs in minutes or hours since the start"};
    }
    log.clock = LogClock{std::chrono::time_point_cast<std::chrono::seconds>(*options.start), true};
  }
  std::optional<Program> plan;
  if (options.plan) plan = read_program_input(*options.plan);
  const Degrees degrees = options.degrees.value_or(log.degrees);
  const std::vector<Bulk> held_to = bulks_held_to(options);
  const LogCheck checked = thickset::check_log(casting,
                                               kiln,
                                               controller.late_on_cooling,
                                               log,
                                               plan,
                                               options.firing,
                                               options.limits,
                                               true,
                                               degrees,
                                               held_to,
                                               progress);
  const MeasureCasting measure_casting = [&](const Casting& changed, Bulk bulk) {
    return measure_log(changed, kiln, checked.run, bulk);
  };
  deliver_history(options, checked.result.measured);
  Firing firing = options.firing;
  firing.from = checked.run.course.start;
  ReportContext context{.casting = casting,
                        .kiln = kiln,
                        .controller = controller,
                        .firing = firing,
                        .limits = options.limits,
                        .display = {degrees, options.lengths},
                        .start = options.start};
  if (options.explain) {
    progress("simulating the other treatments of the bulk");
    context.treatments = compare_treatments(casting, measure_casting);
  }
  if (casting.walls) {
    progress("simulating other walls");
    context.if_walls_conduct =
        if_walls_conduct(casting, options.firing.room, options.limits, held_to, measure_casting);
  }
  // What was set before such a log began is in none of the castings drawn.
  if (!checked.begins_late) {
    progress("simulating castings that differ a little");
    add_how_sure(options,
                 casting,
                 checked.result,
                 with_few_corners(checked.run.course),
                 input.source,
                 context,
                 checked.run.begins_cold);
  }
  const Pictures& pictures = options.pictures;
  if (pictures.page) {
    write_text_file(*pictures.page, log_page(context, log, checked, pictures.request));
  }
  if (pictures.chart) {
    write_text_file(*pictures.chart,
                    log_chart(context, checked, pictures.chart_of, pictures.request));
  }
  const std::string keys = log_keys(log, checked) + limit_keys(options.limits);
  put_record(options, context, {.command = "check", .keys = keys, .keyed = {}});
  switch (options.format) {
    case Format::text: {
      std::string text = log_text(context, log, checked);
      if (const std::optional<SketchStyle> style = wanted_sketch(options)) {
        text += '\n' + log_sketch(context, checked, *style);
      }
      text = with_comparison(std::move(text), keys);
      deliver(options, text);
      break;
    }
    case Format::csv: deliver(options, log_csv(context, checked)); break;
    case Format::keys:
      deliver(options,
              log_keys(log, checked) + check_walls_keys(context) + how_sure_keys(context) +
                  limit_keys(options.limits));
      break;
  }
  return checked.result.verdict == Verdict::within ? fine : over_a_limit;
}

}  // namespace thickset::cli

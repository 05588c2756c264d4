#include "checking/check.h"

#include <algorithm>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text_file.h"
#include "checking/notes.h"
#include "checking/slips.h"
#include "commands.h"
#include "how_sure.h"
#include "inputs.h"
#include "record.h"
#include "recorded_files.h"
#include "reporting/bow_section.h"
#include "reporting/how_sure_section.h"
#include "reporting/keying.h"
#include "reporting/keying_card.h"
#include "reporting/page/firing_page.h"
#include "reporting/read_back.h"
#include "reporting/report.h"
#include "reporting/sketches.h"
#include "reporting/walls_section.h"
#include "schedule/notation.h"
#include "schedule/read_log.h"
#include "sketching.h"

namespace thickset::cli {

namespace {

/// Options that are about a log, where a program is checked.
void refuse_of_program(const Options& options, const std::string& source) {
  for (const auto& [given, name] : {std::pair{options.plan.has_value(), "--plan"},
                                    std::pair{options.sensor.has_value(), "--sensor"}}) {
    if (!given) continue;
    throw Error{
        {.source = name},
        fmt::format("{} is a program, not a log", source),
        "leave it out, or name a log to check: its header tells the time and a temperature, "
        "such as time,air_C"};
  }
}

bool can_be_keyed(const CheckResult& result) {
  return std::none_of(result.findings.begin(), result.findings.end(), [](const Finding& finding) {
    return finding.kind == Finding::Kind::cannot_be_keyed;
  });
}

}  // namespace

ExitStatus check(const Options& options) {
  const InputText input = read_input(options.program);
  const bool replaying = RecordedFiles::of_this_run().replaying();
  if (!replaying && looks_like_record(input.text)) return check_record(options, input);
  if (looks_like_log(input.text)) return check_log(options, input);
  refuse_of_program(options, input.source);
  const Casting casting = load_casting(options);
  refuse_pictures(options.pictures, casting);
  refuse_record(options, casting);
  const Kiln kiln = load_kiln(options);
  const Controller controller = load_controller(options);
  const Program program = parse_program(input.text, input.source);
  const Degrees degrees = options.degrees.value_or(program.degrees);
  const std::vector<Bulk> held_to = bulks_held_to(options);
  CheckResult result = thickset::check(casting,
                                       kiln,
                                       controller.late_on_cooling,
                                       program,
                                       options.firing,
                                       options.limits,
                                       true,
                                       degrees,
                                       held_to);
  add_slips(keying_slips({.casting = casting,
                          .kiln = kiln,
                          .controller = controller,
                          .controller_named = options.controller.has_value(),
                          .program = program,
                          .firing = options.firing,
                          .limits = options.limits,
                          .result = result,
                          .held_to = held_to}),
            result);
  if (options.controller) {
    for (Finding& finding :
         controller_notes(program, controller, start_of(program, options.firing))) {
      result.findings.push_back(std::move(finding));
    }
  }

  std::optional<Treatments> treatments;
  if (options.explain) {
    treatments =
        compare_treatments(casting, kiln, controller.late_on_cooling, program, options.firing);
  }
  deliver_history(options, result.measured);
  ReportContext context{.casting = casting,
                        .kiln = kiln,
                        .controller = controller,
                        .firing = options.firing,
                        .limits = options.limits,
                        .display = {degrees, options.lengths},
                        .start = options.start,
                        .treatments = treatments};
  if (casting.walls) {
    context.if_walls_conduct = if_walls_conduct(casting,
                                                kiln,
                                                controller.late_on_cooling,
                                                program,
                                                options.firing,
                                                options.limits,
                                                bulks_held_to(options));
  }
  add_how_sure(options,
               casting,
               result,
               course_of(result.measured, start_of(program, options.firing)),
               input.source,
               context);
  const Pictures& pictures = options.pictures;
  if (pictures.page) {
    write_text_file(*pictures.page, check_page(context, program, result, pictures.request));
  }
  if (pictures.chart) {
    write_text_file(*pictures.chart,
                    check_chart(context, program, result, pictures.chart_of, pictures.request));
  }
  const std::string keys = check_keys(result) + limit_keys(options.limits);
  put_record(options, context, {.command = "check", .keys = keys, .keyed = program_table(program)});
  switch (options.format) {
    case Format::text: {
      const bool for_controller = options.controller.has_value();
      std::string text = options.card ? check_card(context, program, result, for_controller)
                                      : check_text(context, program, result);
      if (const std::optional<SketchStyle> style = wanted_sketch(options)) {
        text += '\n' + check_sketch(context, program, result, for_controller, *style);
      }
      if (!options.card) text = with_comparison(std::move(text), keys);
      deliver(options, text);
      break;
    }
    case Format::csv: deliver(options, check_csv(context, program, result)); break;
    case Format::keys:
      deliver(options,
              read_back_keys(context, program) +
                  (options.controller
                       ? fmt::format("can_be_keyed = {}\n", can_be_keyed(result) ? "yes" : "no")
                       : std::string{}) +
                  slip_keys(context, result) + check_keys(result) + check_walls_keys(context) +
                  bow_keys(context, result) + how_sure_keys(context) + limit_keys(options.limits));
      break;
  }
  return result.verdict == Verdict::within && can_be_keyed(result) ? fine : over_a_limit;
}

}  // namespace thickset::cli

#include <fmt/format.h>

#include "base/error.h"
#include "commands.h"
#include "inputs.h"
#include "reporting/conversion.h"
#include "schedule/fit_to_settings.h"
#include "schedule/notation.h"

namespace thickset::cli {
namespace {

/// Where the program begins; asked for where its first ramp cannot be converted without.
std::optional<Temperature> beginning(const Program& program,
                                     Notation notation,
                                     std::optional<Temperature> known) {
  const bool first_is_paced = !std::holds_alternative<AsFastAsPossible>(program.steps.front().pace);
  if (!known && notation != program.notation && first_is_paced) {
    throw Error{{.source = "--from"},
                "the program does not say where its first ramp begins",
                "say it with --from, or give the program a start row"};
  }
  return known;
}

}  // namespace

ExitStatus convert(const Options& options) {
  const Program program = read_program_input(options.program);
  const std::optional<Temperature> begins =
      options.from_given ? std::optional{options.firing.from} : program.start;

  FittedProgram converted;
  std::optional<Controller> controller;
  std::string setting;
  if (options.controller && (options.to || options.degrees)) {
    throw Error{{options.to ? "--to" : "--degrees"},
                "a controller has its own notation and degrees",
                "leave out either --controller or --to and --degrees"};
  }
  if (options.controller) {
    const Rate own_pace = load_kiln(options).natural_cooling.rate_at(options.firing.from);
    FittedSetting fitted = fit_to_settings(
        program, load_controller(options), begins.value_or(options.firing.from), own_pace);
    converted = std::move(fitted.fitted);
    controller = fitted.set_to;
    setting = fitted.choice;
  } else {
    const Notation notation = options.to.value_or(program.notation);
    converted.program =
        in_notation(program,
                    notation,
                    options.degrees.value_or(program.degrees),
                    beginning(program, notation, begins).value_or(options.firing.from));
  }

  switch (options.format) {
    case Format::text: deliver(options, conversion_text(converted, controller, setting)); break;
    case Format::csv: deliver(options, conversion_csv(converted)); break;
    case Format::keys: deliver(options, conversion_keys(converted)); break;
  }
  return converted.cannot.empty() ? fine : over_a_limit;
}

}  // namespace thickset::cli

#include <algorithm>

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

/// Of this kiln in this program: its fall where the hottest cooling "asap" begins, its heating.
OwnPace own_pace(const Program& program, Temperature start, const Kiln& kiln) {
  constexpr auto least = Rate::from_K_per_h(1.0);  // of a kiln at the room's temperature
  Rate falling = least;
  for (const Leg& leg : legs(program, start)) {
    const bool cools = leg.from && leg.to < *leg.from;
    if (!cools || !std::holds_alternative<AsFastAsPossible>(leg.pace)) continue;
    falling = std::max(falling, kiln.natural_cooling.rate_at(*leg.from));
  }
  return {falling, kiln.fastest_heating};
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
    const Temperature start = begins.value_or(options.firing.from);
    FittedSetting fitted = fit_to_settings(
        program, load_controller(options), start, own_pace(program, start, load_kiln(options)));
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
    case Format::text:
      deliver(options, conversion_text(converted, controller, setting, begins));
      break;
    case Format::csv: deliver(options, conversion_csv(converted)); break;
    case Format::keys: deliver(options, conversion_keys(converted)); break;
  }
  return converted.cannot.empty() ? fine : over_a_limit;
}

}  // namespace thickset::cli

#include "reporting/conversion.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reporting/display.h"
#include "reporting/keying.h"
#include "schedule/notation.h"

namespace thickset {
namespace {

std::vector<std::string> losses(const FittedProgram& converted) {
  std::vector<std::string> lines;
  for (const std::string& line : converted.cannot) lines.push_back("cannot be keyed: " + line);
  lines.insert(lines.end(), converted.changes.begin(), converted.changes.end());
  return lines;
}

bool is_whole(double value) {
  constexpr double round_off = 1e-6;  // of a number that was turned from other units and back
  return std::abs(value - std::round(value)) < round_off;
}

/// Whether the table shows fewer digits than the program has.
bool shows_rounded(const Program& program) {
  const auto step_is_whole = [&](const Step& step) {
    if (!is_whole(in_degrees(step.target, program.degrees)) || !is_whole(in_min(step.hold))) {
      return false;
    }
    if (const Duration* time = std::get_if<Duration>(&step.pace)) return is_whole(in_min(*time));
    constexpr double shown_digits = 1e3;  // six of a rate below 1000
    const Rate* rate = std::get_if<Rate>(&step.pace);
    return rate == nullptr || is_whole(shown_digits * in_degrees_per_h(*rate, program.degrees));
  };
  return !std::all_of(program.steps.begin(), program.steps.end(), step_is_whole);
}

}  // namespace

std::string conversion_text(const FittedProgram& converted,
                            const std::optional<Controller>& controller,
                            const std::string& setting,
                            const std::optional<Temperature>& begins) {
  const std::string nearer =
      converted.nearer.empty() ? "" : "\nWhat would come nearer:\n" + listed(converted.nearer);
  if (controller && !converted.cannot.empty()) {
    return wrapped(fmt::format("This program cannot be keyed into the controller ({}):",
                               controller->title)) +
           '\n' + listed(converted.cannot) + (setting.empty() ? "" : '\n' + setting_line(setting)) +
           nearer;
  }
  const std::vector<std::string> lines = losses(converted);
  std::string text = "The nearest program on the slower side; what it changes is below:\n";
  if (lines.empty()) {
    text = "The same program, exactly:\n";
    if (!controller && shows_rounded(converted.program)) {
      text = wrapped(
                 "The same program; its numbers are rounded below, --out FILE.csv writes them "
                 "exactly:") +
             '\n';
    }
  }
  if (!setting.empty()) text += '\n' + setting_line(setting);
  const std::string begin =
      begins ? "start it at " + show(*begins, Display{.degrees = converted.program.degrees})
             : std::string{"start it where the program begins"};
  text += '\n' + (controller ? keying_table(*controller, converted.program, 0, begin.c_str())
                             : program_table(converted.program));
  if (!lines.empty()) text += "\nWhat the conversion changes:\n" + listed(lines);
  return text + nearer;
}

std::string conversion_csv(const FittedProgram& converted) {
  return write_program(converted.program, losses(converted));
}

std::string conversion_keys(const FittedProgram& converted) {
  std::string text;
  for (std::size_t i = 0; i < converted.program.steps.size(); ++i) {
    const Step& step = converted.program.steps[i];
    const std::size_t n = i + 1;
    text += fmt::format("step_{}_to_C = {:.6g}\n", n, step.target.in_C());
    if (const Rate* rate = std::get_if<Rate>(&step.pace)) {
      text += fmt::format("step_{}_rate_C_per_h = {:.6g}\n", n, rate->in_K_per_h());
    } else if (const Duration* time = std::get_if<Duration>(&step.pace)) {
      text += fmt::format("step_{}_min = {:.6g}\n", n, in_min(*time));
    } else {
      text += fmt::format("step_{}_rate_C_per_h = asap\n", n);
    }
    if (converted.program.notation == Notation::rate) {
      text += fmt::format("step_{}_hold_min = {:.6g}\n", n, in_min(step.hold));
    }
  }
  text += fmt::format("exact = {}\n",
                      converted.changes.empty() && converted.cannot.empty() ? "yes" : "no");
  return text;
}

}  // namespace thickset

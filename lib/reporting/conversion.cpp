#include "reporting/conversion.h"

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

}  // namespace

std::string conversion_text(const FittedProgram& converted,
                            const std::optional<Controller>& controller,
                            const std::string& setting) {
  const std::vector<std::string> lines = losses(converted);
  std::string text = lines.empty()
                         ? "The same program, exactly:\n"
                         : "The nearest program on the slower side; what it changes is below:\n";
  if (!setting.empty()) text += '\n' + setting_line(setting);
  text += '\n' + (controller ? keying_table(*controller, converted.program)
                             : program_table(converted.program));
  if (!lines.empty()) text += "\nWhat the conversion changes:\n" + listed(lines);
  if (!converted.nearer.empty()) text += "\nWhat would come nearer:\n" + listed(converted.nearer);
  return text;
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

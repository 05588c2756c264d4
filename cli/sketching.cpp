#include "sketching.h"

#include "reporting/ascii.h"
#include "terminal.h"

namespace thickset::cli {
namespace {

bool goes_to_screen(const Options& options) {
  return !options.out || *options.out == "-";
}

bool wants_ascii(const Options& options, const Terminal& screen) {
  return options.ascii || (goes_to_screen(options) && screen.is_one && !screen.utf8);
}

}  // namespace

std::optional<SketchStyle> wanted_sketch(const Options& options) {
  if (options.format != Format::text || options.card || options.no_sketch) return std::nullopt;
  constexpr int least_columns = 80;
  constexpr int rows_for_tension = 30;
  const Terminal screen = terminal_of(stdout);
  const bool on_terminal = screen.is_one && goes_to_screen(options);
  if (!options.sketch && !(on_terminal && screen.columns >= least_columns)) return std::nullopt;
  return SketchStyle{.utf8 = screen.utf8 && !wants_ascii(options, screen),
                     .colour = screen.colour && on_terminal,
                     .columns = on_terminal ? screen.columns : least_columns,
                     .tension = options.sketch || screen.rows >= rows_for_tension};
}

std::string as_shown(const Options& options, const std::string& text) {
  return wants_ascii(options, terminal_of(stdout)) ? in_ascii(text) : text;
}

}  // namespace thickset::cli

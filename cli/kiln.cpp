#include <fmt/format.h>

#include "base/error.h"
#include "base/text_file.h"
#include "commands.h"
#include "inputs.h"
#include "kiln/kiln_from_log.h"
#include "progress_line.h"
#include "reporting/kiln_report.h"
#include "schedule/read_log.h"
#include "screen.h"
#include "sketching.h"

namespace thickset::cli {

ExitStatus kiln(const Options& options) {
  if (options.format == Format::csv) {
    throw Error{
        {.source = "--format"}, "kiln writes no csv", "text or keys; --out writes the file"};
  }
  const auto [text, source] = read_input(options.program);
  if (!looks_like_log(text)) {
    throw Error{{.source = source},
                "it has no column that tells the time: not a log",
                "begin it with a header such as time,air_C"};
  }
  ProgressLine line{stderr, is_terminal(stderr)};
  const Progress progress = [&](const std::string& what) { line.say(what); };
  const FiringLog log = parse_log(text, source, options.sensor.value_or(""), progress);
  std::optional<FiringLog> second;
  if (options.second) {
    if (*options.second == log.sensor) {
      throw Error{{.source = "--second"},
                  fmt::format("{} is the first sensor already", *options.second),
                  "name the other column, or choose the first with --sensor"};
    }
    second = parse_log(text, source, *options.second, progress);
  }
  std::optional<LogPart> part;
  if (options.between) part = LogPart{in_s(options.between->first), in_s(options.between->second)};
  const Display display{options.degrees.value_or(log.degrees), options.lengths};
  const KilnFromLog found =
      kiln_from_log(log, second, options.firing.room, part, display.degrees, {.source = source});
  const KilnReport report{.log = log,
                          .second_sensor = options.second.value_or(""),
                          .room = options.firing.room,
                          .found = found,
                          .display = display};
  if (options.out) write_text_file(*options.out, kiln_file(report));
  print_to_screen(options.format == Format::keys
                      ? kiln_keys(report)
                      : as_shown(options, kiln_text(report, options.out.value_or(""))));
  return fine;
}

}  // namespace thickset::cli

#include "run.h"

#include <exception>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "options.h"
#include "recorded_files.h"
#include "screen.h"

namespace thickset::cli {
namespace {

ExitStatus answer(const Options& options) {
  switch (options.command) {
    case Command::hold: return hold(options);
    case Command::tail: return tail(options);
    case Command::table: return table(options);
    case Command::check: return check(options);
    case Command::sure: return sure(options);
    case Command::now: return now(options);
    case Command::rewarm: return rewarm(options);
    case Command::kiln: return kiln(options);
    case Command::convert: return convert(options);
    case Command::list: return list(options);
    case Command::reading: return reading(options);
    case Command::why: return why(options);
    case Command::sag: return sag(options);
    case Command::help: print_to_screen(help_text(options.topic)); return fine;
    case Command::version: print_to_screen("thickset " THICKSET_VERSION "\n"); return fine;
  }
  return our_fault;
}

}  // namespace

ExitStatus run(std::vector<std::string> words) {
  RecordedFiles::of_this_run() = {};
  try {
    return answer(read_options(std::move(words)));
  } catch (const Error& error) {
    print_error(fmt::format("{}\n", error.what()));
    return input_needs_mending;
  } catch (const std::exception& error) {
    print_error(fmt::format("this is our fault, not yours: {}\n", error.what()));
    return our_fault;
  }
}

}  // namespace thickset::cli

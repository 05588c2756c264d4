#include <cstdio>
#include <exception>

#include <fmt/format.h>

#include "base/error.h"
#include "commands.h"
#include "options.h"

namespace {

using namespace thickset::cli;

ExitStatus run(const Options& options) {
  switch (options.command) {
    case Command::hold: return hold(options);
    case Command::tail: return tail(options);
    case Command::table: return table(options);
    case Command::check: return check(options);
    case Command::now: return now(options);
    case Command::rewarm: return rewarm(options);
    case Command::kiln: return kiln(options);
    case Command::convert: return convert(options);
    case Command::list: return list(options);
    case Command::reading: return reading(options);
    case Command::why: return why(options);
    case Command::sag: return sag(options);
    case Command::help: fmt::print("{}", help_text(options.topic)); return fine;
    case Command::version: fmt::print("thickset {}\n", THICKSET_VERSION); return fine;
  }
  return our_fault;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return run(read_options(argc, argv));
  } catch (const thickset::Error& error) {
    fmt::print(stderr, "{}\n", error.what());
    return input_needs_mending;
  } catch (const std::exception& error) {
    fmt::print(stderr, "this is our fault, not yours: {}\n", error.what());
    return our_fault;
  }
}

#include <algorithm>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"
#include "base/text_file.h"
#include "cli/run_in_terminal.h"
#include "cli/run_program.h"
#include "cli/words.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const Words check = {"check", "data/programs/slab-50-hurried.csv", "--casting", "slab-50"};

/// One of each command that draws a firing.
const std::vector<Words> drawn = {{"tail", "--casting", "slab-50"},
                                  check,
                                  {"check", "data/logs/slab-50-good.csv", "--casting", "slab-50"},
                                  {"now",
                                   "data/logs/slab-50-power-cut.csv",
                                   "--at",
                                   "736min",
                                   "--casting",
                                   "slab-50",
                                   "--plan",
                                   "data/programs/slab-50-gentle.csv"}};

bool is_ascii(const std::string& text) {
  return std::all_of(
      text.begin(), text.end(), [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); });
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

const std::string title = "\nTemperature, ";
const std::string tension_title = "\nTension in the glass, MPa: ";

/// A line of progress comes back to its beginning: what it wrote and what is written over it count
/// apart.
std::size_t widest(const std::string& text) {
  std::size_t most = 0;
  for (const std::string& line : lines_of(text)) {
    std::istringstream parts{line};
    for (std::string part; std::getline(parts, part, '\r');) {
      most = std::max(most, count_characters(part));
    }
  }
  return most;
}

/// The text without what a terminal takes for colours.
std::string uncoloured(const std::string& text) {
  std::string plain;
  for (std::size_t at = 0; at < text.size();) {
    if (text[at] == '\x1b') {
      at = text.find('m', at) + 1;
    } else {
      plain += text[at++];
    }
  }
  return plain;
}

}  // namespace

TEST_CASE("cli: a firing is drawn below its report where --sketch asks for it") {
  for (const Words& words : drawn) {
    CAPTURE(words.front());
    const ProgramRun plain = run_program(words);
    const ProgramRun sketched = run_program(with(words, {"--sketch"}));
    CHECK(sketched.errors == "");
    CHECK(sketched.exit_status == plain.exit_status);
    CHECK(sketched.output.starts_with(plain.output));
    CHECK_FALSE(has(plain.output, title));
    const std::string below = sketched.output.substr(plain.output.size());
    CHECK(has(below, title));
    CHECK(has(below, tension_title));
    CHECK(has(below, "hours from the start\n"));
    CHECK_FALSE(has(below, "\x1b"));
    CHECK(widest(below) <= 79);
  }
}

TEST_CASE("cli: the sketch of now marks this moment") {
  const ProgramRun run = run_program(with(drawn.back(), {"--sketch"}));
  const std::size_t at = run.output.find(title);
  REQUIRE(at != std::string::npos);
  CHECK(has(lines_of(run.output.substr(at + 1))[1], "now"));
}

TEST_CASE("cli: --ascii leaves no sign beyond ASCII in any report" * doctest::skip(slow_build)) {
  std::vector<Words> all = drawn;
  for (Words& words : all) words = with(words, {"--sketch"});
  all.push_back({"tail", "--casting", "slab-50", "--card", "--degrees", "F"});
  all.push_back({"hold", "--glass", "soda-lime-float", "--thickness", "60mm"});
  all.push_back({"rewarm", "--casting", "slab-50", "--retardation", "60nm/cm"});
  all.push_back({"kiln", "data/logs/slab-50-good.csv", "--between", "0h,80min"});
  all.push_back({"convert", "data/programs/slab-50-gentle.csv"});
  all.push_back({"list", "casting-soda-lime-9.0"});
  all.push_back({"sag", "--touch", "655C", "--thickness", "6mm", "--drop", "25mm"});
  for (const Words& words : all) {
    CAPTURE(words.front());
    const ProgramRun plain = run_program(words, {.environment = {{"LC_ALL", "C.UTF-8"}}});
    const ProgramRun ascii = run_program(with(words, {"--ascii"}));
    CHECK(ascii.exit_status == plain.exit_status);
    CHECK(ascii.output != plain.output);
    CHECK(is_ascii(ascii.output));
    CHECK(widest(ascii.output) <= 80);
    CHECK(lines_of(ascii.output).size() == lines_of(plain.output).size());
  }
}

TEST_CASE("cli: to a file or a pipe text is UTF-8 whatever the locale, and is not drawn") {
  for (const char* locale : {"C", "C.UTF-8", "de_DE.ISO-8859-1"}) {
    const ProgramRun run = run_program(check, {.environment = {{"LC_ALL", locale}}});
    CHECK(has(run.output, "513 \u00b0C"));
    CHECK_FALSE(has(run.output, title));
  }
}

TEST_CASE("cli: a terminal of 80 columns gets the sketch, a narrower one does not" *
          doctest::skip(slow_build)) {
  for (const Words& words : drawn) {
    CAPTURE(words.front());
    const ProgramRun run = run_in_terminal(words);
    CHECK(run.in_time);
    CHECK(has(run.output, title));
    CHECK(widest(uncoloured(run.output)) <= 80);
    CHECK_FALSE(has(run_in_terminal(words, {.columns = 79}).output, title));
  }
  const ProgramRun none = run_in_terminal(with(check, {"--no-sketch"}));
  CHECK(none.output == run_program(check).output);
  CHECK_FALSE(has(run_in_terminal(with(check, {"--format", "keys"})).output, title));
  CHECK(has(run_in_terminal(with(check, {"--sketch"}), {.columns = 60}).output, title));
  CHECK(widest(uncoloured(run_in_terminal(with(check, {"--sketch"}), {.columns = 200}).output)) <=
        80);
}

TEST_CASE("cli: a low terminal gets the temperatures alone") {
  CHECK(has(run_in_terminal(check, {.rows = 30}).output, tension_title));
  const ProgramRun low = run_in_terminal(check, {.rows = 29});
  CHECK(has(low.output, title));
  CHECK_FALSE(has(low.output, tension_title));
}

TEST_CASE("cli: a terminal without UTF-8 gets ASCII, whichever variable says so") {
  using Environment = std::vector<std::pair<std::string, std::string>>;
  const std::vector<Environment> without = {{},
                                            {{"LANG", "C"}},
                                            {{"LANG", "de_DE@euro"}},
                                            {{"LC_ALL", "C"}, {"LANG", "C.UTF-8"}},
                                            {{"LC_CTYPE", "POSIX"}, {"LANG", "C.UTF-8"}},
                                            {{"LC_ALL", "de_DE.ISO-8859-15"}}};
  for (const Environment& environment : without) {
    const ProgramRun run = run_in_terminal(check, {.environment = environment});
    CHECK(has(run.output, "513 C"));
    CHECK(is_ascii(run.output));
    CHECK(has(run.output, title));
  }
  const std::vector<Environment> with_utf8 = {
      {{"LANG", "de_DE.UTF-8"}},
      {{"LC_ALL", ""}, {"LC_CTYPE", "en_GB.utf8"}, {"LANG", "C"}},
      {{"LC_ALL", "C.UTF-8"}, {"LANG", "C"}}};
  for (const Environment& environment : with_utf8) {
    CHECK(has(run_in_terminal(check, {.environment = environment}).output, "513 \u00b0C"));
  }
}

TEST_CASE("cli: colour on a terminal alone, never with NO_COLOR, and never meaning by itself") {
  const auto in = [](std::vector<std::pair<std::string, std::string>> environment) {
    environment.emplace_back("LANG", "C.UTF-8");
    return run_in_terminal(check, {.environment = environment}).output;
  };
  const std::string coloured = in({{"TERM", "xterm"}});
  CHECK(has(coloured, "\x1b["));
  // Each colour is put back before its line ends.
  for (const std::string& line : lines_of(coloured)) {
    const std::size_t last = line.rfind('\x1b');
    if (last != std::string::npos) CHECK(line.substr(last).starts_with("\x1b[0m"));
  }
  const std::string plain = in({{"TERM", "xterm"}, {"NO_COLOR", "1"}});
  CHECK_FALSE(has(plain, "\x1b"));
  CHECK(uncoloured(coloured) == plain);
  CHECK_FALSE(has(in({{"TERM", "xterm"}, {"NO_COLOR", "no"}}), "\x1b"));
  CHECK(has(in({{"TERM", "xterm"}, {"NO_COLOR", ""}}), "\x1b"));
  CHECK_FALSE(has(in({{"TERM", "dumb"}}), "\x1b"));
  CHECK_FALSE(has(in({}), "\x1b"));
}

TEST_CASE("cli: a report that goes to a file is drawn without colour and only when asked") {
  const TemporaryFolder folder;
  const std::string out = folder / "report.txt";
  run_in_terminal(with(check, {"--out", out}));
  CHECK_FALSE(has(read_text_file(out), title));
  run_in_terminal(with(check, {"--out", out, "--sketch"}), {.columns = 50});
  CHECK(has(read_text_file(out), title));
  CHECK_FALSE(has(read_text_file(out), "\x1b"));
}

TEST_CASE("cli: a sketch of nothing, or of what is not text, is refused in one line") {
  for (const Words& words : {with(check, {"--sketch", "--no-sketch"}),
                             with(check, {"--sketch", "--format", "keys"}),
                             with(check, {"--sketch", "--card"}),
                             with(check, {"--sketch", "--out", "x.csv"}),
                             Words{"now", "--air", "430C", "--casting", "slab-50", "--sketch"}}) {
    const ProgramRun run = run_program(words);
    CHECK(run.exit_status == 2);
    CHECK(run.output == "");
    CHECK(lines_of(run.errors).size() == 1);
    CHECK(run.errors.starts_with("--sketch: "));
  }
  // Not asked for, it is left out.
  const ProgramRun run = run_in_terminal({"now", "--air", "430C", "--casting", "slab-50"});
  CHECK_FALSE(has(run.output, title));
  CHECK(has(run.output, "The glass"));
}

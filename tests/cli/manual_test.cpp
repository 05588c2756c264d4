#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <set>

#include "base/text_file.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

std::string manual() {
  const ProgramRun run = run_program({"help", "manual"});
  REQUIRE(run.exit_status == 0);
  return run.output;
}

const std::vector<std::string> commands = {"hold",
                                           "tail",
                                           "check",
                                           "sure",
                                           "now",
                                           "rewarm",
                                           "kiln",
                                           "convert",
                                           "list",
                                           "reading",
                                           "why",
                                           "sag"};

/// The names that --help of a command shows, such as "--glass".
std::set<std::string> options_in_help(const std::string& command) {
  std::set<std::string> names;
  for (const std::string& line : lines_of(run_program({command, "--help"}).output)) {
    if (!line.starts_with("  --")) continue;
    names.insert(line.substr(2, line.find(' ', 2) - 2));
  }
  return names;
}

std::string with_troff_hyphens(const std::string& text) {
  std::string shown;
  for (const char c : text) shown += c == '-' ? std::string{"\\-"} : std::string{c};
  return shown;
}

}  // namespace

TEST_CASE("cli: the manual page has its sections and every option of every command") {
  const std::string page = manual();
  std::size_t at = 0;
  for (const char* section : {"NAME",
                              "SYNOPSIS",
                              "DESCRIPTION",
                              "COMMANDS",
                              "EXIT STATUS",
                              "FILES",
                              "ENVIRONMENT",
                              "EXAMPLES",
                              "CAUTIONS"}) {
    CAPTURE(section);
    const std::size_t found = page.find(std::string{"\n.SH "} + section + '\n');
    REQUIRE(found != page.npos);
    CHECK(found > at);
    at = found;
  }
  for (const std::string& command : commands) {
    CAPTURE(command);
    const std::size_t begin = page.find("\n.SS " + command + '\n');
    REQUIRE(begin != page.npos);
    const std::string section = page.substr(begin, page.find("\n.S", begin + 1) - begin);
    const std::set<std::string> options = options_in_help(command);
    CHECK(options.size() >= 5);
    for (const std::string& option : options) {
      CAPTURE(option);
      CHECK(section.find("\\fB" + with_troff_hyphens(option) + "\\fR") != section.npos);
    }
  }
}

TEST_CASE("cli: no line of the manual page is an accidental request, and all is ASCII") {
  for (const std::string& line : lines_of(manual())) {
    CAPTURE(line);
    CHECK_FALSE(line.empty());
    CHECK_FALSE(line.starts_with("'"));
    if (line.starts_with(".")) {
      const std::string request = line.substr(0, line.find(' '));
      CHECK(std::set<std::string>{".TH", ".SH", ".SS", ".TP", ".PP", ".nf", ".fi", ".RS", ".RE"}
                .contains(request));
    }
    CHECK(std::all_of(line.begin(), line.end(), [](char c) { return c >= ' ' && c <= '~'; }));
    for (std::size_t i = 0; i < line.size(); ++i) {
      const bool bare_hyphen = line[i] == '-' && (i == 0 || line[i - 1] != '\\');
      CHECK_FALSE(bare_hyphen);
    }
  }
}

TEST_CASE("cli: the manual page ends with the whole cautions") {
  const std::string page = manual();
  const std::vector<std::string> cautions = lines_of(run_program({"help", "cautions"}).output);
  CHECK(cautions.size() > 10);
  std::size_t at = page.find("\n.SH CAUTIONS\n");
  for (const std::string& line : cautions) {
    // Apostrophes are written as troff names them; the words up to the first are enough.
    const std::string start = with_troff_hyphens(line.substr(0, line.find_first_of("'`")));
    CAPTURE(start);
    at = page.find('\n' + start, at);
    REQUIRE(at != page.npos);
  }
}

TEST_CASE("cli: the manual page renders without warnings where groff is there") {
  if (std::system("command -v groff >/dev/null 2>&1") != 0) {
    MESSAGE("no groff on this machine: not rendered");
    return;
  }
  const TemporaryFolder folder;
  const std::string page = folder.file("thickset.1", manual());
  const std::string shown = folder / "shown";
  const std::string line =
      "groff -man -Tascii -ww '" + page + "' >'" + shown + "' 2>'" + shown + ".errors'";
  CHECK(std::system(line.c_str()) == 0);
  CHECK(read_bytes(shown + ".errors", 1u << 20) == "");
  const std::string text = read_bytes(shown, 4u << 20);
  CHECK(text.find("crystalline") != text.npos);
  CHECK(text.find("over a limit") != text.npos);
}

#include <cstdlib>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;
using namespace std::string_literals;

namespace {

using Words = std::vector<std::string>;

ProgramRun run_on(const std::string& input, const Words& words) {
  return run_program(words, {.input = input});
}

std::string file(const std::string& name) {
  return read_bytes(THICKSET_SOURCE "/data/" + name, 1u << 20);
}

}  // namespace

TEST_CASE("cli: a program or a log from standard input gives what its file gives") {
  struct Case {
    std::string name;
    Words words;
    std::size_t operand;
  };
  const std::vector<Case> cases = {
      {"programs/slab-50-hurried.csv", {"check", "", "--casting", "slab-50"}, 1},
      {"logs/slab-50-good.csv",
       {"check", "", "--casting", "slab-50", "--plan", "data/programs/slab-50-gentle.csv"},
       1},
      {"programs/slab-50-gentle.csv",
       {"check", "data/logs/slab-50-good.csv", "--casting", "slab-50", "--plan", ""},
       5},
      {"programs/slab-50-gentle.csv", {"convert", "", "--to", "time", "--from", "800C"}, 1},
      {"logs/slab-50-good.csv", {"kiln", "", "--between", "0h,80min"}, 1},
      {"logs/slab-50-power-cut.csv",
       {"now",
        "",
        "--at",
        "736min",
        "--casting",
        "slab-50",
        "--plan",
        "data/programs/slab-50-gentle.csv"},
       1},
      {"programs/slab-50-gentle.csv",
       {"now",
        "--air",
        "401C",
        "--since-hold",
        "3h",
        "--off-for",
        "45min",
        "--casting",
        "slab-50",
        "--plan",
        ""},
       10}};
  for (const Case& of : cases) {
    CAPTURE(of.name);
    CAPTURE(of.words.front());
    Words named = of.words, piped = of.words;
    named[of.operand] = "data/" + of.name;
    piped[of.operand] = "-";
    const ProgramRun by_name = run_program(named);
    const ProgramRun by_pipe = run_on(file(of.name), piped);
    CHECK(by_pipe.errors == by_name.errors);
    CHECK(by_pipe.exit_status == by_name.exit_status);
    CHECK(by_name.exit_status <= 1);
    if (of.words.front() == "kiln") continue;  // its report and file name the log
    CHECK(by_pipe.output == by_name.output);
  }
}

TEST_CASE("cli: a tail goes through a pipe into its check") {
  const TemporaryFolder folder;
  const std::string shown = folder / "shown";
  const std::string program = "'" THICKSET_BINARY "'";
  const std::string line = program + " tail --casting slab-50 --format csv | " + program +
                           " check - --casting slab-50 --format keys >'" + shown + "'";
  CHECK(std::system(line.c_str()) == 0);
  CHECK(read_text_file(shown).find("verdict = within\n") != std::string::npos);
}

TEST_CASE("cli: what is wrong on standard input is said with its line") {
  const Words check = {"check", "-", "--casting", "slab-50"};
  const auto refusal = [&](const std::string& input) {
    const ProgramRun run = run_on(input, check);
    CHECK(run.exit_status == 2);
    CHECK(run.output == "");
    return run.errors;
  };
  const std::string head = "target_C,rate_C_per_h,hold_min\n";
  const std::string bad = refusal(head + "513,asap,120\n370,fast,0\n");
  CHECK(bad.starts_with("standard input, line 3, column 5: "));
  CHECK(lines_of(bad).size() == 1);
  CHECK(refusal("").starts_with("standard input: is empty; "));
  CHECK(refusal("a\0b"s).starts_with("standard input: is not a text file; "));
  CHECK(refusal(head + "513,asap,\xB0\n").starts_with("standard input, line 2: is not UTF-8"));
  CHECK(refusal(std::string(70u << 20, 'a')).starts_with("standard input: is larger than "));
  const ProgramRun program =
      run_on(head + "513,asap,120\n", {"check", "-", "--casting", "slab-50", "--plan", "x"});
  CHECK(program.errors.find("standard input is a program, not a log") != std::string::npos);
  const ProgramRun no_log = run_on(head + "513,asap,120\n", {"kiln", "-"});
  CHECK(no_log.errors.starts_with("standard input: it has no column that tells the time"));
}

TEST_CASE("cli: standard input closed, or a folder, is refused") {
  const std::string program = "'" THICKSET_BINARY "' check - --casting slab-50 ";
  const TemporaryFolder folder;
  const std::string said = folder / "said";
  for (const std::string& from : {std::string{"<&-"}, "<'" + folder.path() + "'"}) {
    CAPTURE(from);
    const int status = std::system((program + from + " 2>'" + said + "'").c_str());
    CHECK(WEXITSTATUS(status) == 2);
    CHECK(read_text_file(said).starts_with("standard input: cannot be read: "));
  }
}

TEST_CASE("cli: standard input for two files, or as a file to write, is refused in one line") {
  const std::vector<Words> runs = {
      {"check", "-", "--casting", "slab-50", "--plan", "-"},
      {"now", "-", "--casting", "slab-50", "--plan", "-"},
      {"tail", "--casting", "slab-50", "--page", "-"},
      {"tail", "--casting", "slab-50", "--chart", "-"},
      {"check", "data/programs/slab-50-gentle.csv", "--casting", "slab-50", "--trace", "-"},
      {"kiln", "data/logs/slab-50-good.csv", "--out", "-"}};
  for (const Words& words : runs) {
    CAPTURE(words.front());
    const ProgramRun run = run_on("", words);
    CHECK(run.exit_status == 2);
    CHECK(run.output == "");
    CHECK(lines_of(run.errors).size() == 1);
    CHECK(run.errors.find("name a file") != std::string::npos);
  }
}

TEST_CASE("cli: --out - is the screen, and ./- is a file of that name") {
  const TemporaryFolder folder;
  const Words convert = {"convert", THICKSET_SOURCE "/data/programs/slab-50-gentle.csv"};
  const std::string plain = run_program(convert).output;
  Words words = convert;
  words.insert(words.end(), {"--out", "-"});
  CHECK(run_program(words, {.folder = folder.path()}).output == plain);
  CHECK(folder.count() == 0);
  words.back() = "./-";
  CHECK(run_program(words, {.folder = folder.path()}).output == "");
  CHECK(read_text_file(folder / "-") == plain);
  CHECK(run_program({"convert", "./-"}, {.folder = folder.path()}).exit_status == 2);
}

TEST_CASE("cli: the help of commands that read programs tells of standard input") {
  for (const char* command : {"tail", "check", "sure", "now", "kiln", "convert"}) {
    CHECK(run_program({command, "--help"}).output.find("standard input") != std::string::npos);
  }
  CHECK(run_program({"hold", "--help"}).output.find("standard input") == std::string::npos);
  CHECK(run_program({"help", "manual"}).output.find("standard input") != std::string::npos);
}

#include <filesystem>
#include <set>
#include <sstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"
#include "cli/run_program.h"
#include "cli/words.h"
#include "reporting/keying_card.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

Words cells_of(const std::string& line) {
  std::istringstream in{line};
  Words cells;
  for (std::string word; in >> word;) cells.push_back(word);
  return cells;
}

/// The rows of the table that begins with a line whose first word is "step" or "line", as words;
/// what a step is for is left out.
std::vector<Words> steps_in(const std::string& text) {
  const std::set<std::string> purposes = {
      "hold", "setting", "easing", "run-out", "upper", "rewarm"};
  std::vector<Words> steps;
  bool within = false;
  for (const std::string& line : lines_of(text)) {
    Words words = cells_of(line);
    if (words.empty()) {
      if (within) break;
      continue;
    }
    const bool head = words.front() == "step" || words.front() == "line";
    if (!within && head && words.size() > 1 && words.back() != "time/h") {
      within = true;
      continue;
    }
    if (!within) continue;
    if (words.front().find_first_not_of("0123456789") != std::string::npos) break;
    if (words.size() > 3 && purposes.contains(words.back())) words.pop_back();
    steps.push_back(words);
  }
  return steps;
}

void check_form(const std::string& card) {
  CAPTURE(card);
  const std::vector<std::string> lines = lines_of(card);
  REQUIRE(lines.size() > 8);
  for (const std::string& line : lines) {
    CAPTURE(line);
    CHECK(count_characters(line) <= card_columns);
    CHECK((line.empty() || line.back() != ' '));
  }
  CHECK(card.starts_with("KEYING CARD"));
  CHECK(card.find("date ____") != card.npos);
  CHECK(lines[lines.size() - 2] == "HOT until checked. Glass can burst.");
  CHECK(lines[lines.size() - 1] == "Estimate only. Fit a separate cut-out.");
}

Words shipped_controllers() {
  Words names;
  for (const auto& entry :
       std::filesystem::directory_iterator{THICKSET_SOURCE "/data/controllers"}) {
    names.push_back(entry.path().stem().string());
  }
  return names;
}

}  // namespace

TEST_CASE("cli: the keying card has the report's steps in 40 columns, for every controller") {
  const Words controllers = shipped_controllers();
  REQUIRE(controllers.size() >= 8);
  int turn = 0;
  for (const std::string& controller : controllers) {
    if (slow_build && turn++ % 8 != 0) continue;
    for (const char* degrees : {"C", "F"}) {
      CAPTURE(controller);
      CAPTURE(degrees);
      const Words tail = {
          "tail", "--casting", "slab-50", "--controller", controller, "--degrees", degrees};
      const ProgramRun report = run_program(tail);
      const ProgramRun card = run_program(with(tail, {"--card"}));
      // A controller that has not these degrees: refused with and without.
      CHECK(card.exit_status == report.exit_status);
      CHECK(card.errors == report.errors);
      if (report.exit_status == 2) continue;
      check_form(card.output);
      const std::vector<Words> steps = steps_in(card.output);
      CHECK(steps.size() >= 3);
      CHECK(steps == steps_in(report.output));
    }
  }
}

TEST_CASE("cli: the card of rewarm and of now has their steps") {
  const std::vector<Words> runs = {
      {"rewarm", "--casting", "slab-50", "--retardation", "60nm/cm"},
      {"rewarm", "--casting", "slab-50", "--retardation", "60nm/cm", "--degrees", "F"},
      {"now",
       "data/logs/slab-50-power-cut.csv",
       "--at",
       "736min",
       "--casting",
       "slab-50",
       "--plan",
       "data/programs/slab-50-gentle.csv"}};
  for (const Words& run : runs) {
    CAPTURE(run.front());
    const ProgramRun report = run_program(run);
    const ProgramRun card = run_program(with(run, {"--card"}));
    CHECK(card.exit_status == report.exit_status);
    CHECK(card.errors == "");
    check_form(card.output);
    CHECK(steps_in(card.output).size() >= 3);
    CHECK(steps_in(card.output) == steps_in(report.output));
  }
}

TEST_CASE("cli: the card of a checked program has its steps as they are keyed") {
  const Words check = {"check", "data/programs/slab-50-gentle.csv", "--casting", "slab-50"};
  const ProgramRun plain = run_program(with(check, {"--card"}));
  CHECK(plain.exit_status == run_program(check).exit_status);
  check_form(plain.output);
  // The program's own table is that of a conversion that changes nothing.
  const ProgramRun same = run_program({"convert", "data/programs/slab-50-gentle.csv"});
  CHECK(steps_in(plain.output).size() >= 3);
  CHECK(steps_in(plain.output) == steps_in(same.output));
  CHECK(plain.output.find("OVER") == plain.output.npos);

  const ProgramRun keyed =
      run_program(with(check, {"--card", "--controller", "ten-steps-by-rate"}));
  CHECK(keyed.output.find("After the last step") != keyed.output.npos);
  CHECK(plain.output.find("After the last step") == plain.output.npos);
}

TEST_CASE("cli: the card of a program over the limits says so above its steps") {
  const Words check = {
      "check", "data/programs/slab-50-hurried.csv", "--casting", "slab-50", "--card"};
  const ProgramRun run = run_program(check);
  CHECK(run.exit_status == 1);
  check_form(run.output);
  const std::size_t said = run.output.find("OVER THE LIMITS");
  REQUIRE(said != run.output.npos);
  CHECK(said < run.output.find("step"));
}

TEST_CASE("cli: the card tells the clock where the start is known, and goes to a file") {
  const TemporaryFolder folder;
  const Words tail = {"tail", "--casting", "slab-50", "--card"};
  CHECK(run_program(tail).output.find("after the start") != std::string::npos);
  const ProgramRun timed = run_program(with(tail, {"--start", "2026-11-27 18:00"}));
  CHECK(timed.output.find("Starts Fri 2026-11-27 18:00") != std::string::npos);
  const ProgramRun filed = run_program(with(tail, {"--out", folder / "card.txt"}));
  CHECK(filed.output == "");
  CHECK(std::filesystem::exists(folder / "card.txt"));
}

TEST_CASE("cli: a card of what has no steps, or not as text, is refused in one line") {
  const std::vector<Words> runs = {
      {"check", "data/logs/slab-50-good.csv", "--casting", "slab-50", "--card"},
      {"tail", "--casting", "slab-50", "--card", "--format", "keys"},
      {"tail", "--casting", "slab-50", "--card", "--out", "x.csv"},
      {"now", "--air", "430C", "--casting", "slab-50", "--card"}};
  for (const Words& run : runs) {
    CAPTURE(run.front());
    const ProgramRun refused = run_program(run);
    CHECK(refused.exit_status == 2);
    CHECK(refused.output == "");
    CHECK(lines_of(refused.errors).size() == 1);
    CHECK(refused.errors.find("--card") != refused.errors.npos);
  }
}

TEST_CASE("keying card: no name, cell or end key makes it wider than it may be") {
  const std::string endless(200, 'w');
  std::string accents;
  for (int i = 0; i < 90; ++i) accents += "\u00e9";
  for (const std::string& name : {std::string{"short"}, endless, accents, "a " + endless + " b"}) {
    const KeyingCard card{
        .casting = name,
        .before = {name, ""},
        .start = name,
        .steps = {{"step", "rate", "target", "hold"},
                  {{{"1", "as fast as it goes", "1200 \u00b0C", "99999 min"}, "", 0, false},
                   {{"2", "key " + name, "513 \u00b0C", "0 min"}, "", 1, false}}},
        .end = name,
        .times = {name}};
    const std::string text = card_text(card);
    check_form(text);
    CHECK(text.find("513 \u00b0C") != text.npos);
    CHECK(text.find("99999 min") != text.npos);
  }
}

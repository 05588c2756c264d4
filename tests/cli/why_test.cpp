#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;

std::string answer(const Words& words) {
  const ProgramRun run = run_program(words);
  CHECK(run.exit_status == 0);
  CHECK(run.errors.empty());
  for (const std::string& line : lines_of(run.output)) CHECK(count_characters(line) <= 80);
  CHECK(run.output.find("safe") == std::string::npos);
  return run.output;
}

bool says(const std::string& text, const char* words) {
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("why: ranks causes, says what tells them apart and what to find out next") {
  const std::string text =
      answer({"why", "--edges", "sharp", "--path", "hooked", "--when", "later"});
  CHECK(text.starts_with("Look first at: stress that annealing left. This is no verdict."));
  CHECK(says(text, "a crack that curves or hooks (strongly)"));
  CHECK(says(text, "`thickset reading`"));
  CHECK(says(text, "What would help most next: where is light"));
  CHECK(says(text, "common practice, no source was\n  found"));
  CHECK(says(text, "do not reheat, do not open"));
  CHECK(says(text, "This is an estimate, not a guarantee."));
  CHECK_FALSE(says(text, "do not go together"));
}

TEST_CASE("why: signs that exclude each other, and every question answered") {
  CHECK(says(answer({"why", "--edges", "rounded", "--when", "later"}),
             "These signs do not go together"));
  const std::string all = answer({"why",
                                  "--edges",
                                  "sharp",
                                  "--path",
                                  "straight",
                                  "--when",
                                  "cooling",
                                  "--fits",
                                  "perfectly",
                                  "--light",
                                  "none"});
  CHECK(says(all, "Every question is answered"));
  CHECK_FALSE(says(all, "What would help most next"));
}

TEST_CASE("why: keys and csv carry the same ranking") {
  const Words words = {"why", "--path", "from-a-spot", "--format"};
  Words for_keys = words, for_csv = words;
  for_keys.emplace_back("keys");
  for_csv.emplace_back("csv");
  const auto keys = keys_of(answer(for_keys));
  CHECK(keys.at("cause_1") == "stuck");
  CHECK(keys.at("cause_1_points") == "2");
  CHECK(keys.at("signs_disagree") == "no");
  CHECK(keys.count("cause_7") == 1);
  const auto rows = rows_of(answer(for_csv));
  REQUIRE(rows.size() == 8);
  CHECK(rows[1] == std::vector<std::string>{"1", "stuck", "2"});
}

TEST_CASE("why: every bad input is refused in one line that says how to mend it") {
  const struct {
    Words words;
    const char* line;
  } rows[] = {
      {{"why"},
       "why needs one sign at least; write for example --edges sharp, --path hooked, --when "
       "later\n"},
      {{"why", "--edges", "blunt"},
       "--edges: \"blunt\" is not known; write one of: sharp, rounded\n"},
      {{"why", "--when", "sharp"},
       "--when: \"sharp\" is not known; write one of: heating, cooling, opening, cold-work, "
       "later\n"},
      {{"why", "--edge", "sharp"}, "why has no option \"--edge\"; did you mean --edges?\n"},
      {{"why", "--light", ""}, "--light: nothing was given; write a value after it\n"},
      {{"why", "sharp"}, "\"sharp\" is not expected here; see `thickset why --help`\n"},
  };
  for (const auto& row : rows) {
    CAPTURE(row.line);
    const ProgramRun run = run_program(row.words);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(run.errors == row.line);
  }
}

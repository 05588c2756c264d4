#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;

const Words by_turn =
    {"reading", "--turn", "34deg", "--path", "60mm", "--glass", "soda-lime-float"};

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::string spaced(const std::string& text) {
  std::string one_line;
  for (const char c : text) {
    const bool space = c == ' ' || c == '\n';
    if (!space || (!one_line.empty() && one_line.back() != ' ')) one_line += space ? ' ' : c;
  }
  return one_line;
}

/// The answer, line breaks taken out, of a run with this exit status.
std::string answer(const Words& words, int exit_status) {
  const ProgramRun run = run_program(words);
  CAPTURE(run.errors);
  CHECK(run.exit_status == exit_status);
  CHECK(run.errors.empty());
  for (const std::string& line : lines_of(run.output)) CHECK(count_characters(line) <= 80);
  for (const char* const promise : {"safe", "proven", "fine to", " ok", "OK"}) {
    CHECK(run.output.find(promise) == std::string::npos);
  }
  return spaced(run.output);
}

bool says(const std::string& text, const char* words) {
  return text.find(words) != std::string::npos;
}

void check_refused(const Words& words, const std::string& line) {
  const ProgramRun run = run_program(words);
  CHECK(run.exit_status == 2);
  CHECK(run.output.empty());
  CHECK(run.errors == line + '\n');
}

}  // namespace

// 565 nm x 34 / 180 over 6 cm [ASTM-F218]; the same through 2.65 1/TPa [ISO10110-18].
TEST_CASE("reading: a path in inches keeps the digits of its range") {
  const std::string text = answer(with(by_turn, {"--lengths", "inch", "--path-error", "0.5mm"}), 0);
  CHECK(says(text, "over 2.36 in (2.34 to 2.38)"));
  CHECK(says(text, "apparent 5 over 2.36 in, real 0.34 per 0.160 in."));
}

TEST_CASE("reading: an analyser turn in text, keys and csv") {
  const std::string text = answer(by_turn, 0);
  CHECK(text.starts_with("No objection found by this reading: display, cutting, re-annealing."));
  CHECK(says(text, "107 nm (100 to 113) over 60.0 mm (58.8 to 61.2)"));
  CHECK(says(text, "between a fine (below 10) and a coarse anneal (above 20 nm/cm)"));
  CHECK(says(text, "apparent 5 over 60 mm, real 0.34 per 4.06 mm."));
  CHECK(says(text, "qualified person"));
  CHECK(says(text, "This is an estimate, not a guarantee."));

  const auto keys = keys_of(run_program(with(by_turn, {"--format", "keys"})).output);
  CHECK(keys.at("retardation_nm") == "106.722");
  CHECK(keys.at("retardation_per_path_nm_per_cm") == "17.787");
  CHECK(keys.at("stress_MPa") == "0.671209");
  CHECK(keys.at("apparent_temper_number") == "5");
  CHECK(keys.at("anneal") == "between");
  CHECK(keys.at("cutting") == "none-found");
  CHECK(keys.at("grade_nm_per_cm") == "20");

  const auto rows = rows_of(run_program(with(by_turn, {"--format", "csv"})).output);
  REQUIRE(rows.size() == 4);
  for (const auto& row : rows) CHECK(row.size() == rows.front().size());
  CHECK(rows[2][0] == "cutting");
  CHECK(rows[2][1] == "none-found");
}

TEST_CASE("reading: exit status 1 where a use is objected to, too close or untold") {
  CHECK(says(answer(with(by_turn, {"--grade", "fine"}), 1), "Objection to: cutting."));
  CHECK(says(answer(with(by_turn, {"--grade", "18nm/cm"}), 1), "Too close to call: cutting."));
  answer(with(by_turn, {"--grade", "fine", "--next", "display"}), 0);
  CHECK(says(answer(with(by_turn, {"--view", "face"}), 1), "This reading cannot tell: display"));
}

TEST_CASE("reading: each doubt is named where it counts, and only there") {
  const struct {
    Words more;
    const char* words;
  } rows[] = {
      {{"--view", "face"}, "A slab seen through its face shows nothing"},
      {{"--looks", "opal"}, "Opal glass scatters the light"},
      {{"--looks", "coloured"}, "Coloured glass changes what is seen"},
      {{"--warm"}, "Let the piece lie until it is as cool as the room"},
      {{"--hugs", "boundary"}, "No annealing cures that."},
  };
  const std::string plain = answer(by_turn, 0);
  for (const auto& row : rows) {
    CAPTURE(row.words);
    CHECK(says(answer(with(by_turn, row.more), 1), row.words));
    CHECK_FALSE(says(plain, row.words));
  }
}

TEST_CASE("reading: a thick path that looks bright is said to, a bright thin one is not") {
  const char* const words = "A thick path looks bright though the stress is low";
  CHECK(says(answer({"reading", "--compensator", "150nm", "--path", "200mm"}, 0), words));
  CHECK_FALSE(says(answer({"reading", "--compensator", "150nm", "--path", "20mm"}, 1), words));
}

TEST_CASE("reading: a dark field and a colour carry their own doubts") {
  const std::string dark = answer({"reading", "--colour", "black", "--path", "100mm"}, 0);
  CHECK(says(dark, "turn the piece by 45 degrees"));
  CHECK(says(dark, "eyes and lamps differ"));
  const std::string turned = answer(by_turn, 0);
  CHECK_FALSE(says(turned, "turn the piece by 45 degrees"));
  CHECK_FALSE(says(turned, "eyes and lamps differ"));
}

TEST_CASE("reading: what was not given is listed as assumed") {
  CHECK(says(answer(by_turn, 0), "A turn is read to 2 deg (assumed)"));
  CHECK(says(answer(by_turn, 0), "Clear glass (assumed)"));
  const std::string given = answer(with(by_turn,
                                        {"--reading-error",
                                         "1deg",
                                         "--path-error",
                                         "1mm",
                                         "--looks",
                                         "clear",
                                         "--view",
                                         "edge",
                                         "--bands",
                                         "0",
                                         "--wavelength",
                                         "546nm"}),
                                   0);
  CHECK_FALSE(says(given, "is read to"));
  CHECK_FALSE(says(given, "Clear glass"));
  CHECK_FALSE(says(given, "White light"));
  CHECK(says(answer({"reading", "--discs", "3", "--path", "60mm"}, 0), "no glass was named"));
}

TEST_CASE("reading: every bad input is refused in one line that says how to mend it") {
  check_refused({"reading"},
                "reading needs what was seen; write one of --turn 34deg, --discs 3, --colour grey, "
                "--compensator 107nm");
  check_refused({"reading", "--turn", "34", "--path", "60mm"},
                "--turn: 34 has no unit; write 34deg");
  check_refused({"reading", "--turn", "nandeg", "--path", "60mm"},
                "--turn: \"nandeg\" does not start with a number; write an angle such as 34deg");
  check_refused({"reading", "--turn", "34mm", "--path", "60mm"},
                "--turn: unknown unit \"mm\" in \"34mm\"; known: deg, rad");
  check_refused({"reading", "--turn", "-3deg", "--path", "60mm"},
                "--turn: -3 deg is outside 0 to 180 deg; turn one way only; whole bands count in "
                "--bands");
  check_refused({"reading", "--turn", "3deg", "--bands", "99", "--path", "60mm"},
                "--bands: 99 is outside 0 to 10; count the dark bands between the spot and dark "
                "glass");
  check_refused({"reading", "--turn", "3deg", "--wavelength", "10nm", "--path", "60mm"},
                "--wavelength: 10 nm is outside 400 to 700 nm; give that of the lamp or filter; "
                "white light counts as 565nm");
  check_refused({"reading", "--discs", "3"},
                "--path: it is missing; write for example --path 60mm");
  check_refused({"reading", "--discs", "1e30", "--path", "60mm"},
                "--discs: 1e+30 is outside 0 to 20; write how many discs look as bright as the "
                "spot");
  check_refused({"reading", "--discs", "3", "--path", "1e9mm"},
                "--path: 1e+09 mm is outside 1 to 2000 mm; check the number and its unit");
  check_refused({"reading", "--discs", "3", "--path", "60mm", "--path-error", "40mm"},
                "--path-error: 40 mm is outside 0 to 30 mm; half of the path at most: measure it "
                "better");
  check_refused({"reading", "--discs", "3", "--turn", "3deg", "--path", "60mm"},
                "--discs: --turn is given as well; leave one of them out");
  check_refused({"reading", "--discs", "3", "--order", "2", "--path", "60mm"},
                "--order: does not belong to --discs; leave it out");
  check_refused({"reading", "--colour", "pink", "--path", "60mm"},
                "--colour: \"pink\" is not known; write black, grey, white, yellow, orange, red, "
                "violet, blue or green");
  check_refused({"reading", "--colour", "yellow", "--path", "60mm"},
                "--order: it is missing: yellow comes back (order 1: 270 to 480 nm, 2: 800 to 960 "
                "nm, 3: 1360 to 1480 nm); count from glass that stays dark: the first violet ends "
                "order 1");
  check_refused({"reading", "--colour", "blue", "--order", "1", "--path", "60mm"},
                "--order: blue is not listed in order 1; order 2: 540 to 730 nm, 3: 1100 to 1270 "
                "nm");
  check_refused({"reading", "--discs", "3", "--path", "60mm", "--view", "top"},
                "--view: \"top\" is not known; write one of: edge, face");
  check_refused({"reading", "--discs", "3", "--path", "60mm", "--next", "sale"},
                "--next: \"sale\" is not known; write one of: display, cutting, re-annealing");
}

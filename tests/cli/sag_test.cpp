#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;

const Words strip = {"sag", "--touch", "655C", "--thickness", "6mm", "--drop", "25mm"};

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

std::string answer(const Words& words) {
  const ProgramRun run = run_program(words);
  CAPTURE(run.errors);
  CHECK(run.exit_status == 0);
  CHECK(run.errors.empty());
  for (const std::string& line : lines_of(run.output)) CHECK(count_characters(line) <= 80);
  return run.output;
}

bool says(const std::string& text, const char* words) {
  return text.find(words) != std::string::npos;
}

}  // namespace

TEST_CASE("sag: a range first, both ways, and where they part") {
  const std::string text = answer(strip);
  CHECK(text.starts_with("Annealing point about 599 °C, somewhere from 586 °C to 612 °C: an"));
  CHECK(says(text, "By beam bending: 587 °C to 612 °C"));
  CHECK(says(text, "By the teachers' rule, touch-down less 40 °C: 595 °C to 635 °C"));
  CHECK(says(text, "Unproved"));
  CHECK(says(text, "The two overlap"));
  CHECK(says(text, "This is an estimate, not a guarantee."));
}

TEST_CASE("sag: without the strip the rule's range goes down to that of a thick one, and says so") {
  const std::string text = answer({"sag", "--touch", "655C"});
  CHECK(says(text, "somewhere from 572 °C to 635 °C"));
  CHECK(says(text, "The rule fits strips of about 3 mm, and"));
  CHECK_FALSE(says(text, "By beam bending:"));
  CHECK_FALSE(says(answer(strip), "The rule fits strips of about 3 mm, and"));
}

TEST_CASE("sag: in F and inches nothing is left in C and mm") {
  for (const Words& words : {strip, Words{"sag", "--touch", "655C"}}) {
    const std::string text = answer(with(words, {"--degrees", "F", "--lengths", "inch"}));
    CHECK(says(text, "touch-down less 72 °F: "));
    CHECK(says(text, "10.83 in"));
    for (const char* other : {"°C", " C ", " C/h", " mm", " K "}) {
      CAPTURE(other);
      CHECK_FALSE(says(text, other));
    }
  }
}

TEST_CASE("sag: says that its rule adds the sensor, and what else a glass file needs") {
  const std::string text = answer(with(strip, {"--sensor-error", "7C"}));
  CHECK(says(text, "either way and the 7.0 °C of the sensor. Unproved"));
  CHECK(says(text, "It needs the glass's expansion as well"));
}

TEST_CASE("sag: other spans and rates are for the beam alone") {
  const std::string text = answer(with(strip, {"--rate", "100C/h"}));
  CHECK(says(text, "it is not used here"));
  CHECK_FALSE(says(text, "Unproved"));
  CHECK_FALSE(says(text, "The two"));
}

TEST_CASE("sag: its lines make a glass file that hold reads") {
  std::string lines = "expansion = 9e-6 /K\n";
  for (const std::string& line : lines_of(answer(strip))) {
    if (line.starts_with("annealing_point") || line.starts_with("strain_point"))
      lines += line + '\n';
  }
  const TemporaryFolder folder;
  const ProgramRun run = run_program({"hold",
                                      "--glass",
                                      folder.file("unknown.glass", lines),
                                      "--thickness",
                                      "20mm",
                                      "--format",
                                      "keys"});
  CAPTURE(run.errors);
  CHECK(run.exit_status == 0);
  const auto keys = keys_of(run.output);
  CHECK(keys.at("annealing_point_uncertainty_K") == "13");
  CHECK(keys.count("hold_if_stiffer_min") == 1);
}

TEST_CASE("sag: keys and csv carry both estimates") {
  const auto keys = keys_of(answer(with(strip, {"--format", "keys"})));
  CHECK(keys.at("annealing_point_C") == "599");
  CHECK(keys.at("annealing_point_uncertainty_K") == "13");
  CHECK(keys.at("strain_point_C") == "557");
  CHECK(keys.at("rule_middle_C") == "615");
  CHECK(keys.count("beam_low_C") == 1);
  const auto rows = rows_of(answer(with(strip, {"--format", "csv"})));
  REQUIRE(rows.size() == 3);
  CHECK(rows[1][0] == "beam");
  CHECK(rows[2][0] == "rule");
}

TEST_CASE("sag: every bad input is refused in one line that says how to mend it") {
  const struct {
    Words words;
    const char* line;
  } rows[] = {
      {{"sag"}, "--touch: it is missing; write for example --touch 655C\n"},
      {{"sag", "--touch", "655"}, "--touch: 655 has no unit; write 655C or 655F\n"},
      {{"sag", "--touch", "nanC"},
       "--touch: \"nanC\" does not start with a number; write a temperature such as 516C or "
       "960F\n"},
      {{"sag", "--touch", "20C"},
       "--touch: 20 °C (68 °F) is outside 350 to 1200 °C (662 to 2192 °F); give what the kiln read "
       "when the strip touched\n"},
      {{"sag", "--touch", "655C", "--span", "400mm"},
       "--thickness: it is missing, and the teachers' rule is for a span of 275 mm heated at 50 "
       "°C/h; "
       "give --thickness of the strip and --drop of its middle\n"},
      {{"sag", "--touch", "655C", "--thickness", "6mm"},
       "--drop: it is missing, --thickness was given; beam bending needs both: how thick the strip "
       "is, how far its middle sank\n"},
      {{"sag", "--touch", "655C", "--rate", "0C/h"},
       "--rate: 0 C/h is outside 1 to 600 C/h; give the rate over the last 50 C, such as 50C/h\n"},
      {{"sag", "--touch", "655C", "--span", "-3mm"},
       "--span: -3 mm is outside 50 to 1000 mm; check the number and its unit\n"},
      {{"sag", "--touch", "655C", "--sensor-error", "999K"},
       "--sensor-error: 999 C is outside 0 to 50 C; give for example 5C\n"},
      {{"sag", "--touch", "655C", "--thickness", "3mm", "--drop", "60mm"},
       "--drop: 60 mm is more than a fifth of the span of 275 mm; a strip that hangs so deep is no "
       "longer a beam: let it touch sooner\n"},
  };
  for (const auto& row : rows) {
    CAPTURE(row.line);
    const ProgramRun run = run_program(row.words);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(run.errors == row.line);
  }
}

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "reporting/page/page_checks.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;
using page_checks::count;
using page_checks::fault_of_markup;

namespace {

using Words = std::vector<std::string>;

ProgramRun table(const Words& more) {
  Words words = {"table", "--glass", "casting-soda-lime-9.0"};
  words.insert(words.end(), more.begin(), more.end());
  return run_program(words);
}

void check_one_line(const ProgramRun& run, const std::string& message) {
  CHECK(run.exit_status == 2);
  CHECK(run.output.empty());
  CHECK(run.errors == message + '\n');
}

}  // namespace

TEST_CASE("table command: each row is what tail says of that casting" * doctest::skip(slow_build)) {
  struct Compared {
    const char* thickness;
    Words more;
  };
  const std::vector<Compared> all = {
      {"20mm", {"--kiln", "middling-brick"}},
      {"60mm", {"--kiln", "small-fibre", "--faces", "one-free"}},
      {"2in", {"--degrees", "F", "--grade", "fine", "--hold-at", "930F", "--room", "10C"}},
      {"40mm", {"--mould", "plaster-silica 25mm", "--tension", "ground", "--from", "820C"}},
      {"70mm", {"--shape", "ball", "--controller", "seven-steps-by-time"}}};
  for (const Compared& one : all) {
    const std::string thickness = one.thickness;
    CAPTURE(thickness);
    Words words = {"--rows", thickness, "--format", "keys"};
    words.insert(words.end(), one.more.begin(), one.more.end());
    const ProgramRun tabled = table(words);
    Words tail = {"tail", "--glass", "casting-soda-lime-9.0", "--thickness", thickness};
    tail.insert(tail.end(), {"--format", "keys"});
    tail.insert(tail.end(), one.more.begin(), one.more.end());
    if (std::find(tail.begin(), tail.end(), "--controller") == tail.end()) {
      tail.insert(tail.end(), {"--controller", "twenty-steps-by-rate"});
    }
    const auto row = keys_of(tabled.output);
    const auto alone = keys_of(run_program(tail).output);
    REQUIRE(row.count("row_1_total_h") == 1);
    CHECK(tabled.exit_status == 0);
    CHECK(row.at("row_1_total_h") == alone.at("tail_h"));
    CHECK(row.at("row_1_tension_MPa") == alone.at("peak_tension_MPa"));
    CHECK(row.at("row_1_retardation_nm_per_cm") == alone.at("residual_retardation_nm_per_cm"));
    const auto number = [](const auto& keys, const std::string& name) {
      return std::stod(keys.at(name));
    };
    constexpr double digits = 2e-5;  // six are printed
    CHECK(60.0 * number(row, "row_1_even_out_h") ==
          doctest::Approx(number(alone, "hold_evening_min")).epsilon(digits));
    // Fall and hold are the first step of what is keyed by rate.
    if (alone.count("stage_1_rate_C_per_h") == 1 && thickness != "70mm") {
      const double to_the_end_of_hold_h = number(row, "row_1_arrive_h") +
                                          number(row, "row_1_even_out_h") +
                                          number(row, "row_1_relax_h");
      CHECK(60.0 * to_the_end_of_hold_h ==
            doctest::Approx(number(alone, "step_1_min")).epsilon(digits));
    }
  }
}

TEST_CASE("table command: the usual rows, grown with thickness; files and columns in either unit") {
  const TemporaryFolder folder;
  const std::string file = folder / "table.csv";
  const ProgramRun run = table({"--out", file});
  CHECK(run.exit_status == 0);
  CHECK(run.output.empty());
  CHECK(run.errors.empty());
  const auto rows = rows_of(read_text_file(file));
  REQUIRE(rows.size() == 7);
  const Words thicknesses = {"20", "40", "60", "90", "130", "180"};
  for (std::size_t i = 1; i < rows.size(); ++i) {
    CHECK(rows[i][0] == thicknesses[i - 1]);
    if (i > 1) CHECK(std::stod(rows[i][6]) > std::stod(rows[i - 1][6]));
  }
}

TEST_CASE("table command: inches and millimetres, F and C are the same table") {
  const auto in_mm = rows_of(table({"--rows", "25.4mm,50.8mm", "--format", "csv"}).output);
  const auto in_inch = rows_of(table({"--rows",
                                      "1in, 2 in",
                                      "--format",
                                      "csv",
                                      "--degrees",
                                      "F",
                                      "--lengths",
                                      "inch",
                                      "--room",
                                      "68F",
                                      "--from",
                                      "1472F"})
                                   .output);
  REQUIRE(in_mm.size() == 3);
  REQUIRE(in_inch.size() == 3);
  CHECK(in_inch[0][0] == "thickness_in");
  CHECK(in_inch[1][0] == "1");
  CHECK(in_mm[1][0] == "25.4");
  for (std::size_t row = 1; row < 3; ++row) {
    for (std::size_t n = 1; n < in_mm[row].size(); ++n) {
      CAPTURE(in_mm[0][n]);
      if (in_mm[0][n] == "planned") {
        CHECK(in_inch[row][n] == in_mm[row][n]);
        continue;
      }
      CHECK(std::stod(in_inch[row][n]) == doctest::Approx(std::stod(in_mm[row][n])).epsilon(1e-4));
    }
  }
}

TEST_CASE("table command: a row without a plan says why, the others stand, exit status 1" *
          doctest::skip(slow_build)) {
  const ProgramRun run =
      table({"--rows", "40mm,120mm", "--grade", "0.5nm/cm", "--tension", "0.3MPa"});
  CHECK(run.exit_status == 1);
  CHECK(run.output.starts_with("No plan for 2 of 2 thicknesses."));
  CHECK(table({"--rows", "20mm,40mm", "--room", "45C"}).exit_status == 0);
  // The ten steps' whole degrees an hour are too coarse for the thicker one.
  const Words strict = {"--rows",
                        "20mm,120mm",
                        "--grade",
                        "2nm/cm",
                        "--controller",
                        "ramp-and-hold-lines",
                        "--hold-at",
                        "513C"};
  const ProgramRun mixed = table(strict);
  CHECK(mixed.exit_status == 1);
  CHECK(count(mixed.output, "No plan for 1 of 2 thicknesses.") == 1);
  CHECK(count(mixed.output, "\n    20 mm  ") == 1);
  CHECK(count(mixed.output, "\n   120 mm  no plan; the reason is below\n") == 1);
  CHECK(count(mixed.output, "No plan for 120 mm:\n- ") == 1);
}

TEST_CASE("table command: bad input is refused in one line that says how to mend it") {
  const std::string form = "; write for example 20mm,40mm,60mm";
  const std::string once = "; write each thickness once, from thin to thick";
  const std::string commas = "; write thicknesses with commas between: 20mm,40mm,60mm";
  std::string many;
  for (int mm = 20; mm < 45; ++mm) many += (many.empty() ? "" : ",") + std::to_string(mm) + "mm";
  const std::vector<std::pair<Words, std::string>> refused = {
      {{"--rows", "20"}, "--rows: 20 has no unit; write 20mm, 20cm or 20in"},
      {{"--rows", "20,40mm"}, "--rows: 20 has no unit; write 20mm, 20cm or 20in"},
      {{"--rows", ""}, "--rows: nothing was given; write a value after it"},
      {{"--rows", ","}, "--rows: \",\" has an empty place" + commas},
      {{"--rows", "20mm,,40mm"}, "--rows: \"20mm,,40mm\" has an empty place" + commas},
      {{"--rows", "20mm,"}, "--rows: \"20mm,\" has an empty place" + commas},
      {{"--rows", "nanmm"},
       "--rows: \"nanmm\" does not start with a number; write a length such as 100mm or 4in"},
      {{"--rows", "20mm,infmm"},
       "--rows: \"infmm\" does not start with a number; write a length such as 100mm or 4in"},
      {{"--rows", "0mm"}, "--rows: 0mm is outside 3 to 1000 mm; check the unit" + form},
      {{"--rows", "-5mm"}, "--rows: -5mm is outside 3 to 1000 mm; check the unit" + form},
      {{"--rows", "40in"}, "--rows: 40in is outside 3 to 1000 mm; check the unit" + form},
      {{"--rows", "20mm,20mm"},
       "--rows: 20mm is not at least 1 mm above the 20 mm before it" + once},
      {{"--rows", "40mm,20mm"},
       "--rows: 20mm is not at least 1 mm above the 40 mm before it" + once},
      {{"--rows", "1in,25.5mm"},
       "--rows: 25.5mm is not at least 1 mm above the 25.4 mm before it" + once},
      {{"--rows", many}, "--rows: more than 24 thicknesses; leave some out, or ask in two tables"},
      {{"--shape", "block"},
       "--shape: \"block\" does not go into this table; its rows go by one measure: write slab, "
       "rod or ball"},
      {{"--faces", "round"},
       "--faces: unknown faces \"round\"; use both, one-free (free to bend) or one-held (held "
       "flat)"},
      {{"--thickness", "20mm"},
       "table has no option \"--thickness\"; `thickset table --help` lists them"},
      {{"--hold-at", "100C"},
       "--hold-at: at 100 C this glass would take over 30 days to relax (strain point 465 "
       "C); hold at 479 C or above"},
      {{"--chart", "x.svg", "--page", "x.svg"},
       "--chart: the page is written to the same file; give each a name of its own"}};
  for (const auto& [words, message] : refused) {
    const std::string expected = message;
    CAPTURE(expected);
    check_one_line(table(words), message);
  }
  check_one_line(run_program({"table"}),
                 "--glass: it is missing; name a glass; `thickset list glasses` shows them");
}

TEST_CASE("table command: page and chart written whole, the report unchanged" *
          doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  const Words rows = {"--rows", "20mm,40mm,80mm", "--kiln", "small-fibre"};
  Words with_pictures = rows;
  with_pictures.insert(with_pictures.end(),
                       {"--page", folder / "page.html", "--chart", folder / "chart.svg"});
  const ProgramRun plain = table(rows), run = table(with_pictures);
  CHECK(run.exit_status == 0);
  CHECK(run.output == plain.output);
  CHECK(folder.count() == 2);
  CHECK(fault_of_markup(read_text_file(folder / "page.html")) == "");
  const std::string chart = read_text_file(folder / "chart.svg");
  CHECK(fault_of_markup(chart) == "");
  CHECK(count(chart, "<title>Hours against thickness</title>") == 1);
}

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text_file.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string good = "data/logs/slab-50-good.csv";

double number(const std::string& keys, const std::string& name) {
  return std::stod(keys_of(keys).at(name));
}

}  // namespace

// The log is of the middling brick kiln, which falls by 320 K/h at 800 C and 130 at 500 C; a degree
// of ripple and noise is on it.
TEST_CASE("kiln: learns the demonstration's kiln from its log, and other commands take the file") {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/mine.kiln";
  const ProgramRun run = run_program({"kiln", good, "--between", "0h,80min", "--out", file});
  CHECK(run.exit_status == 0);
  CHECK(run.output.starts_with("Written to "));
  CHECK(run.output.find("elements were off") != std::string::npos);
  const std::string keys =
      run_program({"kiln", good, "--between", "0h,80min", "--format", "keys"}).output;
  CHECK(number(keys, "known_from_C") == doctest::Approx(800.0).epsilon(0.01));
  const double points = keys.find("point_2_C") == std::string::npos ? 1 : 2;
  CHECK(points == 2);
  CHECK(number(keys, "point_2_rate_C_per_h") == doctest::Approx(320.0).epsilon(0.04));
  CHECK(keys.find("doubtful = no") != std::string::npos);
  const ProgramRun used =
      run_program({"hold", "--casting", "slab-50", "--kiln", file, "--hold-at", "513C"});
  CHECK(used.exit_status == 0);
  CHECK(used.output.find("where none was logged") != std::string::npos);
}

TEST_CASE("kiln: a tail that a program ran is doubted") {
  const ProgramRun run = run_program({"kiln", good});
  CHECK(run.exit_status == 0);
  CHECK(run.output.starts_with("Doubtful, for the reasons below: "));
  CHECK(run.output.find("\nDoubtful:\n") != std::string::npos);
  CHECK(run.output.find("\n# DOUBTFUL: ") != std::string::npos);
  CHECK(run.output.find("e+0") == std::string::npos);
  CHECK(run.output.find("falls faster at") != std::string::npos);
}

TEST_CASE("kiln: a second column gives lag and offset") {
  const std::string keys =
      run_program(
          {"kiln", good, "--between", "0h,80min", "--second", "second_C", "--format", "keys"})
          .output;
  CHECK(number(keys, "second_offset_C") == doctest::Approx(2.0).epsilon(0.3));
  CHECK(number(keys, "second_lag_min") < 2.0);
}

TEST_CASE(
    "kiln: what two sensors differ by goes into the file, and every command reckons with it") {
  const TemporaryFolder folder;
  const std::string log = folder.path() + "/fall.csv";
  std::ofstream rows{log};
  rows << "hours,air_C,beside_C,mould_C\n";
  double mould_C = 800.0;
  for (int minute = 0; minute <= 1200; minute += 10) {
    const double air_C = 20.0 + 780.0 * std::exp(-minute / 400.0);
    mould_C += (air_C - mould_C) * 10.0 / 120.0;  // two hours late
    rows << minute / 60.0 << ',' << air_C << ',' << air_C - 8.0 << ',' << mould_C << '\n';
  }
  rows.close();
  const std::string file = folder.path() + "/mine.kiln";
  REQUIRE(run_program({"kiln", log, "--second", "beside_C", "--out", file}).exit_status == 0);
  CHECK(read_text_file(file).find("sensors_differ = 8.0 C") != std::string::npos);
  const std::string other = folder.path() + "/other.kiln";
  const ProgramRun behind = run_program({"kiln", log, "--second", "mould_C", "--out", other});
  REQUIRE(behind.exit_status == 0);
  CHECK(behind.output.find("too late to be in the same air") != std::string::npos);
  CHECK(read_text_file(other).find("sensors_differ") == std::string::npos);

  const std::vector<std::string> hold = {
      "hold", "--casting", "slab-50", "--hold-at", "513C", "--format", "keys", "--kiln"};
  const auto hold_min = [&](const std::string& kiln) {
    std::vector<std::string> words = hold;
    words.push_back(kiln);
    return number(run_program(words).output, "hold_min");
  };
  CHECK(hold_min(file) > hold_min(other) + 15.0);
  const std::vector<std::string> at = {
      "now", "--casting", "slab-50", "--air", "300C", "--format", "keys", "--kiln"};
  const auto range_K = [&](const std::string& kiln) {
    std::vector<std::string> words = at;
    words.push_back(kiln);
    const std::string keys = run_program(words).output;
    return number(keys, "surface_highest_C") - number(keys, "surface_lowest_C");
  };
  CHECK(range_K(file) > range_K(other) + 8.0);
  CHECK(run_program({"hold", "--casting", "slab-50", "--kiln", file, "--explain"})
            .output.find("its two sensors differ") != std::string::npos);
}

TEST_CASE("kiln: what cannot be is refused in one line, and nothing is written") {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/mine.kiln";
  const std::vector<std::vector<std::string>> bad = {{"kiln"},
                                                     {"kiln", good, "--between", "3h"},
                                                     {"kiln", good, "--between", "5h,3h"},
                                                     {"kiln", good, "--between", "900h,901h"},
                                                     {"kiln", good, "--second", "air_C"},
                                                     {"kiln", good, "--second", "no_C"},
                                                     {"kiln", good, "--format", "csv"},
                                                     {"kiln", "data/programs/slab-50-gentle.csv"},
                                                     {"kiln", "no-such.csv"}};
  for (std::vector<std::string> words : bad) {
    words.insert(words.end(), {"--out", file});
    const ProgramRun run = run_program(words);
    CAPTURE(run.errors);
    CHECK(run.exit_status == 2);
    CHECK(std::count(run.errors.begin(), run.errors.end(), '\n') == 1);
    CHECK(!std::filesystem::exists(file));
  }
}

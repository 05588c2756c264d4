#include <algorithm>
#include <filesystem>
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
  CHECK(run.output.find("Doubtful:") != std::string::npos);
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

#include <algorithm>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

ProgramRun rewarm(std::vector<std::string> more) {
  std::vector<std::string> words = {"rewarm", "--casting", "slab-50"};
  words.insert(words.end(), more.begin(), more.end());
  return run_program(words);
}

double number(const std::string& keys, const std::string& name) {
  return std::stod(keys_of(keys).at(name));
}

}  // namespace

TEST_CASE("rewarm: what to do, what to key, why, and the caution of a crack") {
  const ProgramRun run = rewarm({"--retardation", "50nm/cm"});
  CHECK(run.exit_status == 0);
  CHECK(run.output.starts_with("Heat at "));
  for (const char* said : {"start setpoint",
                           "its centre holds 1.9 MPa",
                           "Within the limits.",
                           "If you suspect a crack: do not reheat, do not open",
                           "an estimate, not a guarantee"}) {
    CAPTURE(said);
    CHECK(run.output.find(said) != std::string::npos);
  }
  CHECK(run.output.find("may break at any rate") == std::string::npos);
}

TEST_CASE("rewarm: a piece over the limit is said to be, exit status 1") {
  const ProgramRun run = rewarm({"--retardation", "120nm/cm"});
  CHECK(run.exit_status == 1);
  CHECK(run.output.find("may break at any rate") != std::string::npos);
}

TEST_CASE("rewarm: its program is read back by check, and leaves the grade") {
  const TemporaryFolder folder;
  const std::string file = folder.path() + "/again.csv";
  CHECK(rewarm({"--retardation", "50nm/cm", "--out", file}).exit_status == 0);
  const ProgramRun checked =
      run_program({"check", file, "--casting", "slab-50", "--format", "keys"});
  CHECK(number(checked.output, "residual_retardation_nm_per_cm") <= 20.5);
}

TEST_CASE("rewarm: keys") {
  const std::string keys = rewarm({"--retardation", "54nm/cm", "--format", "keys"}).output;
  CHECK(number(keys, "existing_tension_MPa") == doctest::Approx(2.0));
  CHECK(number(keys, "heating_tension_MPa") <= 3.0);
  CHECK(number(keys, "heating_1_rate_C_per_h") > 1.0);
  CHECK(number(keys, "heating_1_to_C") == doctest::Approx(465.0).epsilon(0.01));
  CHECK(number(keys, "rewarm_leaves_nm_per_cm") <= 20.0);
  CHECK(keys.find("rewarm_within = yes") != std::string::npos);
}

TEST_CASE("rewarm: without a reading, or with one that cannot be, one line says so") {
  const ProgramRun none = rewarm({});
  CHECK(none.exit_status == 2);
  CHECK(none.errors.find("--retardation") != std::string::npos);
  for (const char* bad : {"50", "-5nm/cm", "nan nm/cm", "1e9nm/cm", "50mm"}) {
    CAPTURE(bad);
    const ProgramRun run = rewarm({"--retardation", bad});
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(std::count(run.errors.begin(), run.errors.end(), '\n') == 1);
  }
}

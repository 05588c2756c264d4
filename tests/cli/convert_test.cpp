#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;
using Rows = std::vector<std::vector<std::string>>;

constexpr double rounding_of_a_double = 1e-9;  // relative, far above a few roundings

Rows converted(const TemporaryFolder& folder, const std::string& program, Words more) {
  Words words = {"convert", folder.file("given.csv", program), "--format", "csv"};
  words.insert(words.end(), more.begin(), more.end());
  const ProgramRun run = run_program(words);
  CAPTURE(run.errors);
  CHECK(run.exit_status == 0);
  return rows_of(run.output);
}

void check_same(const Rows& rows, const Rows& wanted) {
  REQUIRE(rows.size() == wanted.size());
  CHECK(rows.front() == wanted.front());
  for (std::size_t i = 1; i < rows.size(); ++i) {
    REQUIRE(rows[i].size() == wanted[i].size());
    for (std::size_t j = 0; j < rows[i].size(); ++j) {
      CAPTURE(i);
      CAPTURE(j);
      const bool is_number = !wanted[i][j].empty() && wanted[i][j] != "asap";
      if (!is_number) {
        CHECK(rows[i][j] == wanted[i][j]);
        continue;
      }
      const double number = std::stod(wanted[i][j]);
      CHECK(std::abs(std::stod(rows[i][j]) - number) <= rounding_of_a_double * std::abs(number));
    }
  }
}

const std::string by_time = "target_C,minutes\n800,0\n513,asap\n513,180\n363,2004\n35,770\n";

}  // namespace

TEST_CASE("convert: time notation comes back from rate notation unchanged") {
  const TemporaryFolder folder;
  const Rows by_rate = converted(folder, by_time, {"--to", "rate"});
  CHECK(by_rate.front() == rows_of("target_C,rate_C_per_h,hold_min").front());
  check_same(converted(folder, file_of(by_rate), {"--to", "time"}), rows_of(by_time));
}

TEST_CASE("convert: degrees C come back from degrees F unchanged") {
  const TemporaryFolder folder;
  const std::string by_rate = "target_C,rate_C_per_h,hold_min\n513,asap,138\n360,9,0\n35,31.4,0\n";
  for (const std::string& program : {by_time, by_rate}) {
    const Rows in_F = converted(folder, program, {"--degrees", "F"});
    CHECK(in_F.front().front() == "target_F");
    check_same(converted(folder, file_of(in_F), {"--degrees", "C"}), rows_of(program));
  }
}

TEST_CASE("convert: a rate of 10 C/h is 18 F/h, and 32 is added to targets alone") {
  const TemporaryFolder folder;
  const Rows in_F =
      converted(folder, "target_C,rate_C_per_h,hold_min\n500,,0\n400,10,60\n", {"--degrees", "F"});
  check_same(in_F, rows_of("target_F,rate_F_per_h,hold_min\n932,,0\n752,18,60\n"));
}

TEST_CASE("convert: says that it is exact where it is, and states the loss where it is not") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p.csv", by_time);
  const ProgramRun exact = run_program({"convert", path, "--to", "rate"});
  CHECK(exact.exit_status == 0);
  CHECK(exact.output.starts_with("The same program; its numbers are rounded below"));
  CHECK(run_program({"convert", path, "--to", "rate", "--format", "keys"})
            .output.find("exact = yes\n") != std::string::npos);

  // 150 C in 2004 min is 4.49 C/h: a controller of whole C/h takes 4, which loses time.
  const Words to_whole = {"convert", path, "--controller", "ten-steps-by-rate"};
  const ProgramRun rounded = run_program(to_whole);
  CHECK(rounded.exit_status == 0);
  CHECK(rounded.output.starts_with("The nearest program on the slower side"));
  CHECK(rounded.output.find("What the conversion changes:\n- ") != std::string::npos);
  CHECK(rounded.output.find("4 °C/h") != std::string::npos);
  Words keys = to_whole;
  keys.insert(keys.end(), {"--format", "keys"});
  CHECK(run_program(keys).output.find("exact = no\n") != std::string::npos);
}

TEST_CASE("convert: a program with more steps than the controller has ends with status 1") {
  const TemporaryFolder folder;
  std::string program = "target_C,minutes\n";
  for (int target_C = 500; target_C > 100; target_C -= 20) {
    program += std::to_string(target_C) + ",120\n";
  }
  const ProgramRun run = run_program(
      {"convert", folder.file("p.csv", program), "--controller", "seven-steps-by-time"});
  CHECK(run.exit_status == 1);
  CHECK(run.output.starts_with("This program cannot be keyed into the controller"));
  CHECK(run.output.find("takes 20 steps") != std::string::npos);
  CHECK(run.output.find("Key into") == std::string::npos);
}

TEST_CASE("convert: a cold program says where it begins, and changes by the steps as keyed") {
  const TemporaryFolder folder;
  const std::string path = folder.file("p.csv",
                                       "target_C,rate_C_per_h,hold_min\n300,60,60\n513,asap,180\n"
                                       "360,7,0\n35,28,0\n");
  const Words by_time = {"convert", path, "--controller", "twelve-steps-by-time"};
  Words cold = by_time;
  cold.insert(cold.end(), {"--from", "20C"});
  const ProgramRun run = run_program(cold);
  CHECK(run.exit_status == 0);
  Words by_rate = {"convert", path, "--controller", "ten-steps-by-rate"};
  CHECK(run_program(by_rate).output.find("start it where the program begins") != std::string::npos);
  by_rate.insert(by_rate.end(), {"--from", "20C"});
  const std::string exact = run_program(by_rate).output;
  CHECK(exact.find("start it at 20 °C") != std::string::npos);
  CHECK(exact.find("process hold") == std::string::npos);
  // This controller has no key for asap: 213 K at the 250 K/h that the kiln heats are 52 min.
  CHECK(run.output.find("step 2 (keyed as 3): as fast as possible becomes 52 min") !=
        std::string::npos);
  CHECK(run.output.find("step 3 (keyed as 5): 1311.43 min becomes 1312 min") != std::string::npos);
  CHECK(run.output.find("inf") == std::string::npos);
}

TEST_CASE("convert: says where the numbers it shows are rounded") {
  const TemporaryFolder folder;
  const std::string path =
      folder.file("p.csv", "target_C,rate_C_per_h,hold_min\n800,,0\n360,7,0\n35,28,0\n");
  const ProgramRun run = run_program({"convert", path, "--to", "time"});
  CHECK(run.output.starts_with("The same program; its numbers are rounded below, --out FILE.csv"));
  CHECK(run_program({"convert", path}).output.starts_with("The same program, exactly:"));
}

#include <string>
#include <utility>
#include <vector>

#include <doctest/doctest.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string points = "expansion = 9e-6 /K\nannealing_point = 513 C\nstrain_point = 465 C\n";

ProgramRun hold_of(const TemporaryFolder& folder, const std::string& glass, const char* format) {
  const std::string path = folder.file("my.glass", glass);
  return run_program(
      {"hold", "--glass", path, "--thickness", "30mm", "--hold-at", "513C", "--format", format});
}

}  // namespace

TEST_CASE("hold: a glass whose points are uncertain needs the hold of the stiffer one") {
  const TemporaryFolder folder;
  const auto minutes_for = [&](const char* uncertainty) {
    const std::string line = std::string{"annealing_point_uncertainty = "} + uncertainty + "\n";
    const ProgramRun run = hold_of(folder, points + line, "keys");
    CHECK(run.exit_status == 0);
    return std::stod(keys_of(run.output).at("hold_if_stiffer_min"));
  };
  const auto plain = keys_of(hold_of(folder, points, "keys").output);
  CHECK(plain.count("hold_if_stiffer_min") == 0);
  const double at_10 = minutes_for("10 K"), at_20 = minutes_for("36 F");
  CHECK(std::stod(plain.at("hold_min")) < at_10);
  CHECK(at_10 < at_20);
}

TEST_CASE("hold: the report says so above all numbers, and only where the file does") {
  const TemporaryFolder folder;
  const std::string uncertain =
      hold_of(folder, points + "annealing_point_uncertainty = 20 K\n", "text").output;
  CHECK(uncertain.find("The annealing point may be 20 °C higher, as the glass file says") <
        uncertain.find("What the time is made of"));
  CHECK(hold_of(folder, points, "text").output.find("may be") == std::string::npos);
}

TEST_CASE("tail: a glass whose points are uncertain is told the hold that serves both ends") {
  const TemporaryFolder folder;
  const auto tail_of = [&](const std::string& more) {
    const std::string glass = folder.file("own.glass", points + more);
    const ProgramRun run = run_program(
        {"tail", "--glass", glass, "--thickness", "30mm", "--steps", "3", "--confidence", "off"});
    CHECK(run.exit_status == 0);
    return run.output;
  };
  const std::string told = tail_of("annealing_point_uncertainty = 20 K\n");
  CHECK(told.find("The annealing point may be 20 °C higher") <
        told.find("Key into the controller"));
  CHECK(tail_of("").find("The annealing point may be") == std::string::npos);
}

TEST_CASE("now: points stated as uncertain widen the range of what the way on leaves") {
  const TemporaryFolder folder;
  // The rate steps up just below the strain point: where that lies tells what stays.
  const std::string plan =
      folder.file("plan.csv", "target_C,rate_C_per_h,hold_min\n513,asap,180\n450,4,0\n50,14,0\n");
  const auto range_of = [&](const std::string& more) {
    const std::string glass = folder.file("own.glass", points + more);
    const auto keys = keys_of(run_program({"now",
                                           "--plan",
                                           plan,
                                           "--air",
                                           "490C",
                                           "--since-hold",
                                           "345min",
                                           "--glass",
                                           glass,
                                           "--thickness",
                                           "50mm",
                                           "--format",
                                           "keys"})
                                  .output);
    return std::pair{std::stod(keys.at("leaves_lowest_nm_per_cm")),
                     std::stod(keys.at("leaves_highest_nm_per_cm"))};
  };
  const auto [low, high] = range_of("");
  const auto [lower, higher] = range_of("annealing_point_uncertainty = 20 K\n");
  CHECK(lower <= low);
  CHECK(higher > 1.01 * high);
}

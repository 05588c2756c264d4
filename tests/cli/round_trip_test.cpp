#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Keys = std::map<std::string, std::string>;
using Rows = std::vector<std::vector<std::string>>;

constexpr double faster = 1.25;
// Keys are printed with six significant digits: half a unit of the last of them, twice.
constexpr double printing_rel_tol = 1e-5;

std::string read_file(const std::string& path) {
  std::ifstream file{path};
  return {std::istreambuf_iterator<char>{file}, {}};
}

struct PlannedTail {
  Keys keys;
  Rows rows;  ///< header first
};

/// One casting on one controller: planned, checked, run too fast.
class TailOf {
 public:
  TailOf(std::string casting, std::string controller)
      : casting_{std::move(casting)}, controller_{std::move(controller)} {}

  PlannedTail plan() const {
    const std::string path = folder_ / "tail.csv";
    const ProgramRun keys = tail({"--format", "keys"});
    CHECK(keys.exit_status == 0);
    CHECK(tail({"--format", "csv", "--out", path}).exit_status == 0);
    return {keys_of(keys.output), rows_of(read_file(path))};
  }

  ProgramRun check(const Rows& rows) const {
    const std::string path = folder_.file("checked.csv", file_of(rows));
    return run_program(
        {"check", path, "--casting", casting_, "--controller", controller_, "--format", "keys"});
  }

 private:
  ProgramRun tail(std::vector<std::string> more) const {
    std::vector<std::string> words = {"tail", "--casting", casting_, "--controller", controller_};
    words.insert(words.end(), more.begin(), more.end());
    return run_program(words);
  }

  TemporaryFolder folder_;
  std::string casting_, controller_;
};

bool by_rate(const Rows& rows) {
  return rows.front().size() == 3;
}

bool in_F(const Rows& rows) {
  return rows.front().front() == "target_F";
}

/// The number of the step in a row; a start row is none.
std::size_t step_of(const Rows& rows, std::size_t row) {
  const std::string& first_pace = rows[1][1];
  const bool has_start = first_pace.empty() || first_pace == "0";
  return has_start ? row - 1 : row;
}

double target_C(const Rows& rows, std::size_t row) {
  const double value = std::stod(rows[row][0]);
  return in_F(rows) ? (value - 32.0) / 1.8 : value;
}

/// A row's ramp at another rate; a time's digits are kept so that the rate is not rounded up.
void set_rate_C_per_h(Rows& rows, std::size_t row, double rate_C_per_h) {
  const double way_C = std::abs(target_C(rows, row) - target_C(rows, row - 1));
  rows[row][1] = by_rate(rows) ? fmt::format("{:.9g}", rate_C_per_h * (in_F(rows) ? 1.8 : 1.0))
                               : fmt::format("{:.9g}", 60.0 * way_C / rate_C_per_h);
}

/// The rows of stage n (from 1): those that go down to its end from the end of the one before.
std::vector<std::size_t> rows_of_stage(const PlannedTail& tail, int n) {
  constexpr double same_C = 0.01;  // targets are keyed in whole degrees
  const auto end_C = [&](int stage) {
    return stage == 0 ? std::stod(tail.keys.at("hold_temperature_C"))
                      : std::stod(tail.keys.at(fmt::format("stage_{}_to_C", stage)));
  };
  std::vector<std::size_t> rows;
  for (std::size_t i = 1; i < tail.rows.size(); ++i) {
    const double to_C = target_C(tail.rows, i);
    if (to_C < end_C(n - 1) - same_C && to_C > end_C(n) - same_C) rows.push_back(i);
  }
  return rows;
}

Rows run_faster(Rows rows, const std::vector<std::size_t>& stage) {
  for (const std::size_t row : stage) {
    double pace = std::stod(rows[row][1]);
    pace = by_rate(rows) ? pace * faster : pace / faster;
    rows[row][1] = fmt::format("{:.9g}", pace);
  }
  return rows;
}

/// How many stages the tail says are held back by a limit of the glass, each checked to be so.
int check_binding_stages(const TailOf& run, const PlannedTail& tail) {
  int binding = 0;
  for (int n = 1; tail.keys.count(fmt::format("stage_{}_limit", n)) > 0; ++n) {
    const std::string limit = tail.keys.at(fmt::format("stage_{}_limit", n));
    if (limit != "retardation" && limit != "tension") continue;
    ++binding;
    CAPTURE(n);
    CAPTURE(limit);
    const std::vector<std::size_t> stage = rows_of_stage(tail, n);
    REQUIRE(!stage.empty());
    const Rows too_fast = run_faster(tail.rows, stage);
    const ProgramRun over = run.check(too_fast);
    CHECK(over.exit_status == 1);
    const Keys keys = keys_of(over.output);
    CHECK(keys.at("verdict") != "within");
    // The stage itself or another that answers for more; what mends one limit may leave another
    // just over, which the next check names.
    constexpr int most_mendings = 3;
    Rows slowed = too_fast;
    ProgramRun checked = over;
    for (int i = 0; i < most_mendings && checked.exit_status != 0; ++i) {
      const Keys found = keys_of(checked.output);
      for (std::size_t row = 0; row < slowed.size(); ++row) {
        const auto rate =
            found.find(fmt::format("step_{}_passing_rate_C_per_h", step_of(tail.rows, row)));
        if (rate != found.end()) set_rate_C_per_h(slowed, row, std::stod(rate->second));
      }
      checked = run.check(slowed);
    }
    CHECK(keys_of(checked.output).at("verdict") != "over");
  }
  return binding;
}

}  // namespace

TEST_CASE("tail: what it writes is what check finds, and a binding stage run faster is named") {
  const std::vector<std::string> controllers = {"seven-steps-by-time",
                                                "twelve-steps-by-time-F",
                                                "ten-steps-by-rate",
                                                "ten-steps-by-rate-F",
                                                "twenty-steps-by-rate",
                                                "ramp-and-hold-lines"};
  const std::vector<std::string> of_both = {"residual_retardation_nm_per_cm",
                                            "residual_mid_MPa",
                                            "residual_surface_MPa",
                                            "residual_classical_MPa",
                                            "structural_factor",
                                            "peak_tension_MPa",
                                            "program_h"};
  // Each controller with one of the two castings.
  for (std::size_t turn = 0; turn < controllers.size(); ++turn) {
    if (slow_build && turn > 0) break;
    const std::string& controller = controllers[turn];
    const std::string casting = turn % 2 == 0 ? "slab-50" : "block-75x75x150";
    CAPTURE(casting);
    CAPTURE(controller);
    const TailOf run{casting, controller};
    const PlannedTail tail = run.plan();
    REQUIRE(tail.rows.size() > 2);
    CHECK(in_F(tail.rows) == controller.ends_with("-F"));
    CHECK(by_rate(tail.rows) == (controller.find("by-time") == std::string::npos));
    const ProgramRun checked = run.check(tail.rows);
    const Keys keys = keys_of(checked.output);
    CHECK(keys.at("verdict") == "within");
    std::vector<std::string> names = of_both;
    const std::size_t last_step = step_of(tail.rows, tail.rows.size() - 1);
    for (std::size_t i = 1; i <= last_step; ++i) {
      names.push_back(fmt::format("step_{}_to_C", i));
      names.push_back(fmt::format("step_{}_min", i));
      names.push_back(fmt::format("step_{}_max_difference_K", i));
      names.push_back(fmt::format("step_{}_tension_MPa", i));
    }
    for (const std::string& name : names) {
      CAPTURE(name);
      const double planned = std::stod(tail.keys.at(name));
      CHECK(std::abs(std::stod(keys.at(name)) - planned) <= printing_rel_tol * std::abs(planned));
    }
    CHECK(check_binding_stages(run, tail) > 0);
  }
}

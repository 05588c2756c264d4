#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "slow_build.h"
#include "temporary_folder.h"

using thickset::keys_of;
using thickset::ProgramRun;
using thickset::run_program;
using thickset::TemporaryFolder;

namespace {

using Words = std::vector<std::string>;

ProgramRun check_log(const std::string& log, const Words& more = {}) {
  Words words = {"check", log, "--casting", "slab-50"};
  words.insert(words.end(), more.begin(), more.end());
  return run_program(words);
}

/// The text with every `from` turned into `to`.
std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = 0; (at = text.find(from, at)) != std::string::npos; at += to.size()) {
    text.replace(at, from.size(), to);
  }
  return text;
}

/// Whether a report says this, wherever its lines break.
bool contains(const std::string& text, const std::string& part) {
  return replaced(text, "\n  ", " ").find(part) != std::string::npos;
}

std::string written(const TemporaryFolder& folder, const std::string& text) {
  const std::string path = folder.path() + "/log.csv";
  std::ofstream{path} << text;
  return path;
}

std::string text_of(const std::string& path) {
  std::ifstream file{path};
  return {std::istreambuf_iterator<char>{file}, {}};
}

const std::string good = "data/logs/slab-50-good.csv";
const std::string power_cut = "data/logs/slab-50-power-cut.csv";
const std::string too_fast = "data/logs/slab-50-too-fast.csv";
const Words with_plan = {"--plan", "data/programs/slab-50-gentle.csv"};

}  // namespace

TEST_CASE("check of a log: a good firing is within, and says how it went beside its plan") {
  const ProgramRun run = check_log(good, with_plan);
  CHECK(run.exit_status == 0);
  CHECK(run.errors.empty());
  CHECK(contains(run.output, "Within the limits, as simulated from the log: leaves "));
  CHECK(contains(run.output, "from Fri 2026-11-27 18:00 to "));
  CHECK(contains(run.output, "The plan, simulated: leaves "));
  CHECK(!contains(run.output, "What was wrong with it"));
  CHECK(!contains(run.output, "The log ends with the kiln at"));
}

TEST_CASE(
    "check of a log: a power cut shows as a gap, with what the fall and the rise after it pulled") {
  const ProgramRun run = check_log(power_cut, with_plan);
  CHECK(run.exit_status == 1);
  CHECK(contains(
      run.output,
      "Over the limits:\n- Sat 06:16 to 06:40 rose 251 °C/h, from 353 °C to 453 °C: tension of "));
  CHECK(contains(run.output,
                 "- Sat 05:00 to 06:16 fell 89 °C/h, from 466 °C to 353 °C: tension of "));
  CHECK(contains(run.output, "the plan pulls 1.4 at most, with 7.2 °C/h there"));
  CHECK(contains(run.output, "no reading for 76 min"));
  CHECK(contains(run.output, "lies where stress is set"));
}

TEST_CASE("check of a log: one that cooled too fast is over, and its rate that would have passed") {
  const ProgramRun run = check_log(too_fast, with_plan);
  CHECK(run.exit_status == 1);
  CHECK(contains(run.output, "too fast while stress is being set"));
  CHECK(contains(run.output, "would have passed at"));
  CHECK(contains(run.output, "the plan leaves 17.6, with 7.0 °C/h there"));
  // Times of day without dates.
  CHECK(contains(run.output, "day 1 18:00"));
}

TEST_CASE("check of a log: keys are those of a program and the log's own") {
  auto keys = keys_of(check_log(good, {"--format", "keys"}).output);
  CHECK(keys["verdict"] == "within");
  CHECK(keys["log_ends_warm"] == "no");
  CHECK(keys["log_remarks"] == "0");
  CHECK(std::stod(keys["log_readings"]) > 400.0);
  CHECK(std::stod(keys["residual_retardation_nm_per_cm"]) > 5.0);
  CHECK(std::stod(keys["step_1_start_h"]) == 0.0);
  CHECK(std::stod(keys["step_1_rate_C_per_h"]) < -100.0);
}

TEST_CASE("check of a log: a row for each stretch, in the degrees asked for") {
  const ProgramRun run = check_log(good, {"--format", "csv", "--degrees", "F"});
  CHECK(run.output.find("start_h,end_h,from_F,to_F,rate_F_per_h,plan_rate_F_per_h,") == 0);
  const std::vector<std::string> lines = thickset::lines_of(run.output);
  REQUIRE(lines.size() > 4);
  CHECK(lines[1].find("0,") == 0);
}

TEST_CASE("check of a log: the same firing in other notations gets the same answer") {
  const TemporaryFolder folder;
  const std::string text = text_of(THICKSET_SOURCE "/" + good);
  const auto left = [&](const std::string& changed) {
    auto keys = keys_of(check_log(written(folder, changed), {"--format", "keys"}).output);
    return std::stod(keys["residual_retardation_nm_per_cm"]);
  };
  const double as_it_is = left(text);
  std::string semicolons = replaced(replaced(text, ".", ";"), ",", ".");
  semicolons = replaced(replaced(semicolons, ";", ","), ".", ";");
  CHECK(contains(semicolons, ";second_C"));
  CHECK(left(semicolons) == doctest::Approx(as_it_is).epsilon(1e-9));
  CHECK(left("\xEF\xBB\xBF" + replaced(text, "\n", "\r\n")) == as_it_is);
  CHECK(left(replaced(text, ",", "\t")) == as_it_is);
}

TEST_CASE("check of a log: the clock put back in the night changes nothing but a line") {
  const TemporaryFolder folder;
  const auto log = [](bool put_back) {
    std::string text = "time,air_C\n";
    for (int i = 0; i <= 12 * 60; ++i) {
      const int minute = 5 * i;
      const double h = minute / 60.0;
      const double T_C = h < 3.0 ? 800.0 - 95.0 * h : std::max(22.0, 515.0 - 9.0 * (h - 3.0));
      const int clock = minute + 18 * 60 - (put_back && h > 9.0 ? 60 : 0);
      fmt::format_to(std::back_inserter(text),
                     "2026-10-{:02}T{:02}:{:02},{:.2f}\n",
                     24 + clock / 1440,
                     clock / 60 % 24,
                     clock % 60,
                     T_C);
    }
    return text;
  };
  const Words keys = {"--format", "keys"};
  const ProgramRun straight = check_log(written(folder, log(false)), keys);
  const ProgramRun changed = check_log(written(folder, log(true)), keys);
  CHECK(contains(straight.output, "log_remarks = 0\n"));
  CHECK(contains(changed.output, "log_remarks = 1\n"));
  CHECK(replaced(changed.output, "log_remarks = 1", "log_remarks = 0") == straight.output);
}

TEST_CASE("check of a log: a log that ends warm says at the top what is assumed") {
  const TemporaryFolder folder;
  std::string text = text_of(THICKSET_SOURCE "/" + good);
  text.resize(text.find("2026-11-28T20:00"));
  const ProgramRun run = check_log(written(folder, text));
  CHECK(contains(run.output, "The log ends with the kiln at"));
  CHECK(contains(run.output, "from there on the kiln is assumed to fall by itself"));
}

TEST_CASE("check of a log: one that begins below the strain point says that first, status 1") {
  const TemporaryFolder folder;
  const ProgramRun run = check_log(written(folder, "hours,air_C\n0,420\n12,300\n25,35\n26,35\n"));
  CHECK(run.exit_status == 1);
  CHECK(run.output.find("What stays cannot be judged by this log") == 0);
  CHECK(contains(run.output, "Of the log alone: leaves "));
}

TEST_CASE("check of a log: options that do not belong to it are refused, each in one line") {
  struct Refused {
    Words words;
    std::string message;
  };
  for (
      const Refused& row : {
          Refused{{"--controller", "seven-steps-by-time"},
                  "--controller: a log needs no controller; leave it out, or name the program that "
                  "was meant with --plan\n"},
          {{"--from", "800C"},
           "--from: a log begins at its first reading; leave it out, or name the program that was "
           "meant with --plan\n"},
          {{"--start", "2026-11-27 18:00"},
           "--start: the log tells the time of day itself; leave it out; it is for logs in minutes "
           "or hours since the start\n"},
          {{"--sensor", "mould_C"},
           "data/logs/slab-50-good.csv: no temperature column is named \"mould_C\"; it has air_C, "
           "second_C\n"},
          {{"--plan", "data/logs/slab-50-good.csv"},
           "data/logs/slab-50-good.csv:3:1: the header \"time,air_C,second_C\" is no form of a "
           "program; "},
      }) {
    CAPTURE(row.message);
    const ProgramRun run = check_log(good, row.words);
    CHECK(run.exit_status == 2);
    CHECK(run.output.empty());
    CHECK(run.errors.find(row.message) == 0);
    CHECK(thickset::lines_of(run.errors).size() == 1);
  }
  const ProgramRun of_program =
      check_log("data/programs/slab-50-hurried.csv", {"--sensor", "air_C"});
  CHECK(of_program.exit_status == 2);
  CHECK(of_program.errors.find("--sensor: data/programs/slab-50-hurried.csv is a program, not a "
                               "log; ") == 0);
}

TEST_CASE("check of a log: its start can be told where it counts from none") {
  const TemporaryFolder folder;
  const std::string log =
      written(folder, "hours,air_C\n0,800\n2,520\n5,513\n40,300\n60,60\n80,25\n");
  const ProgramRun run = check_log(log, {"--start", "2026-11-27 18:00"});
  CHECK(contains(run.output, "from Fri 2026-11-27 18:00 to Tue 2026-12-01 02:00"));
  CHECK(contains(check_log(log).output, "from 0 min to 80 h 00 min"));
}

TEST_CASE("check of a log: a week at 1 Hz, 600 000 rows, and how long that takes" *
          doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  std::string text = "time,air_C\n";
  std::mt19937 random{21};
  std::normal_distribution<double> noise{0.0, 0.4};
  for (int i = 0; i < 600'000; ++i) {
    const double h = i / 3600.0;
    const double T_C = h < 6.0     ? 800.0
                       : h < 8.0   ? 800.0 - 143.5 * (h - 6.0)
                       : h < 30.0  ? 513.0
                       : h < 110.0 ? 513.0 - 1.9 * (h - 30.0)
                                   : std::max(25.0, 361.0 - 7.0 * (h - 110.0));
    fmt::format_to(std::back_inserter(text),
                   "2026-11-{:02}T{:02}:{:02}:{:02},{:.1f}\n",
                   16 + i / 86'400,
                   i % 86'400 / 3600,
                   i % 3600 / 60,
                   i % 60,
                   T_C + noise(random));
  }
  const std::string log = written(folder, text);
  const auto begin = std::chrono::steady_clock::now();
  const ProgramRun run = check_log(log, {"--format", "keys"});
  const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
  CHECK(run.exit_status == 0);
  CHECK(contains(run.output, "log_readings = 600000\n"));
  CHECK(contains(run.output, "log_remarks = 0\n"));
  // About a second on a machine of its own; here others may be at work.
  CHECK(took.count() < 6.0);
  MESSAGE("600 000 rows, ", text.size() / 1'000'000, " MB, checked in ", took.count(), " s");
}

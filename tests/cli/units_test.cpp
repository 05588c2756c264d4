#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "cli/words.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Keys = std::map<std::string, std::string>;

// Keys are printed with four to six significant digits: a unit of the last of them.
constexpr double printing_rel_tol = 3e-4;
/// What is left by rounding, and has no digits in common.
const std::vector<std::string> round_off = {"heat_balance_error", "net_force_Pa"};
/// Of a whole firing, however its steps are written down.
const std::vector<std::string> of_the_firing = {"verdict",
                                                "program_h",
                                                "open_after_h",
                                                "residual_retardation_nm_per_cm",
                                                "residual_mid_MPa",
                                                "residual_surface_MPa",
                                                "peak_tension_MPa",
                                                "chance_within_limits",
                                                "retardation_95_percent_nm_per_cm"};

/// A casting, its limits and its room, in metric units and in others.
const Words metric = {"--glass",
                      "casting-soda-lime-9.6",
                      "--thickness",
                      "63.5mm",
                      "--tension",
                      "2.9MPa",
                      "--room",
                      "25C"};
const Words imperial = {"--glass",
                        "casting-soda-lime-9.6",
                        "--thickness",
                        "2.5in",
                        "--tension",
                        "420.6094394176psi",
                        "--room",
                        "77F",
                        "--degrees",
                        "F",
                        "--lengths",
                        "inch"};

/// One program in four ways; the first target is reached from 800 C, which is where a program
/// begins.
const char* const by_rate_C =
    "target_C,rate_C_per_h,hold_min\n510,100,240\n410,5,0\n310,20,0\n50,60,0\n";
const char* const by_rate_F =
    "target_F,rate_F_per_h,hold_min\n950,180,240\n770,9,0\n590,36,0\n122,108,0\n";
const char* const by_time_C = "target_C,minutes\n510,174\n510,240\n410,1200\n310,300\n50,260\n";
const char* const by_time_F = "target_F,minutes\n950,174\n950,240\n770,1200\n590,300\n122,260\n";

bool same_value(const std::string& a, const std::string& b) {
  if (a == b) return true;
  char* end = nullptr;
  const double x = std::strtod(a.c_str(), &end);
  if (end == a.c_str() || *end != '\0') return false;
  const double y = std::strtod(b.c_str(), &end);
  return end != b.c_str() && *end == '\0' && std::abs(x - y) <= printing_rel_tol * std::abs(x);
}

/// The keys two runs answer with, and their exit status, which is to be the same.
struct Answers {
  Keys a;
  Keys b;
};

Answers run_both(const Words& a, const Words& b) {
  const ProgramRun one = run_program(with(a, {"--format", "keys"}));
  const ProgramRun other = run_program(with(b, {"--format", "keys"}));
  CAPTURE(one.errors);
  CAPTURE(other.errors);
  CHECK((one.exit_status == 0 || one.exit_status == 1));
  CHECK(one.exit_status == other.exit_status);
  return {keys_of(one.output), keys_of(other.output)};
}

/// Every key of either is in both, with one value.
void check_same(const Words& a, const Words& b) {
  std::string line;
  for (const std::string& word : b) line += word + ' ';
  CAPTURE(line);
  const Answers run = run_both(a, b);
  CHECK(run.a.size() >= 3);
  CHECK(run.a.size() == run.b.size());
  for (const auto& key : run.a) {
    const std::string &name = key.first, &value = key.second;
    if (std::find(round_off.begin(), round_off.end(), name) != round_off.end()) continue;
    CAPTURE(name);
    const auto found = run.b.find(name);
    REQUIRE(found != run.b.end());
    CAPTURE(value);
    CAPTURE(found->second);
    CHECK(same_value(value, found->second));
  }
}

}  // namespace

TEST_CASE("units: what is typed in C and mm or in F and inch is planned alike" *
          doctest::skip(slow_build)) {
  for (const Words& words : {Words{"hold"}, {"tail"}, {"rewarm", "--retardation", "60nm/cm"}}) {
    const Words box = with(words, {"--controller", "ten-steps-by-rate"});
    check_same(with(with(box, {"--hold-at", "505C"}), metric),
               with(with(box, {"--hold-at", "941F"}), imperial));
  }
  check_same(with({"hold", "--from", "700C"}, metric), with({"hold", "--from", "1292F"}, imperial));
  check_same({"table", "--rows", "25.4mm,50.8mm", "--glass", "casting-soda-lime-9.6"},
             {"table",
              "--rows",
              "1in,2in",
              "--glass",
              "casting-soda-lime-9.6",
              "--degrees",
              "F",
              "--lengths",
              "inch"});
}

TEST_CASE("units: a program in C or in F, by rate or by time, is one firing to every command") {
  const TemporaryFolder folder;
  const std::string rate_C = folder.file("rate-C.csv", by_rate_C);
  const std::string rate_F = folder.file("rate-F.csv", by_rate_F);
  const std::string time_C = folder.file("time-C.csv", by_time_C);
  const std::string time_F = folder.file("time-F.csv", by_time_F);
  check_same(with({"check", rate_C}, metric), with({"check", rate_F}, imperial));
  check_same(with({"check", time_C}, metric), with({"check", time_F}, imperial));
  const auto sure = [](const std::string& file) { return Words{"sure", file, "--samples", "64"}; };
  check_same(with(sure(rate_C), metric), with(sure(rate_F), imperial));
  check_same({"convert", rate_C, "--to", "time", "--from", "800C"},
             {"convert", rate_F, "--to", "time", "--from", "1472F"});
  const Words box = {"--controller", "twelve-steps-by-time"};
  const Words now_C = {"now", "--plan", time_C, "--air", "450C", "--since-hold", "14h"};
  const Words now_F = {"now", "--plan", time_F, "--air", "842F", "--since-hold", "840min"};
  check_same(with(with(now_C, box), metric), with(with(now_F, box), imperial));

  // By rate a hold belongs to its step, by time it is one: what is said of steps has other numbers.
  const Answers ways = run_both(with({"check", rate_C}, metric), with({"check", time_F}, imperial));
  for (const std::string& name : of_the_firing) {
    CAPTURE(name);
    REQUIRE(ways.a.contains(name));
    REQUIRE(ways.b.contains(name));
    CHECK(same_value(ways.a.at(name), ways.b.at(name)));
  }
}

TEST_CASE("units: what was read and what sagged mean the same in either unit") {
  check_same({"reading", "--turn", "30deg", "--path", "63.5mm"},
             {"reading", "--turn", "30deg", "--path", "2.5in", "--lengths", "inch"});
  check_same({"sag",
              "--touch",
              "655C",
              "--rate",
              "50C/h",
              "--span",
              "254mm",
              "--thickness",
              "3.175mm",
              "--drop",
              "12.7mm"},
             {"sag",
              "--touch",
              "1211F",
              "--rate",
              "90F/h",
              "--span",
              "10in",
              "--thickness",
              "0.125in",
              "--drop",
              "0.5in",
              "--degrees",
              "F",
              "--lengths",
              "inch"});
}

TEST_CASE("units: a log in C by the minute and in F by the hour is one log" *
          doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  std::string in_C = "minutes,kiln_C\n";
  std::string in_F = "hours,kiln_F\n";
  // A hold of four hours and a fall by itself, every quarter of an hour, a little off the curve.
  for (int row = 0; row <= 120; ++row) {
    const double hours = 0.25 * row;
    const double fallen = 490.0 * std::exp(-std::max(0.0, hours - 4.0) / 14.0);
    const double C = 20.0 + fallen + 0.8 * std::sin(row);
    in_C += std::to_string(15 * row) + "," + std::to_string(C) + "\n";
    in_F += std::to_string(hours) + "," + std::to_string(1.8 * C + 32.0) + "\n";
  }
  const std::string log_C = folder.file("c.csv", in_C);
  const std::string log_F = folder.file("f.csv", in_F);
  for (const char* const command : {"check", "now"}) {
    check_same(with({command, log_C}, metric), with({command, log_F}, imperial));
  }
  check_same({"kiln", log_C, "--between", "4h,30h", "--room", "20C"},
             {"kiln", log_F, "--between", "240min,1800min", "--room", "68F", "--degrees", "F"});
}

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "base/text.h"
#include "cli/read_answer.h"
#include "cli/run_program.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

using Words = std::vector<std::string>;

std::string answer(const Words& words) {
  const ProgramRun run = run_program(words);
  CAPTURE(run.errors);
  CHECK((run.exit_status == 0 || run.exit_status == 1));
  CHECK(run.errors.empty());
  return run.output;
}

Words with(Words words, const Words& more) {
  words.insert(words.end(), more.begin(), more.end());
  return words;
}

const std::string short_hold = "target_C,rate_C_per_h,hold_min\n513,asap,4\n360,7,0\n35,20,0\n";

}  // namespace

TEST_CASE(
    "check says back what was keyed, when it ends, and what looks like a slip, above the table") {
  const TemporaryFolder folder;
  const Words words = {"check", folder.file("p.csv", short_hold), "--casting", "slab-50"};
  const std::string text = answer(with(words, {"--start", "2026-11-27 18:00"}));
  const std::size_t keyed =
      text.find("\nKeyed, from 800 °C where the kiln is: as fast as the kiln");
  const std::size_t slip = text.find("\nLook again at what was keyed:\n- step 1 holds 4 min");
  const std::size_t table = text.find("\nstep    from");
  REQUIRE(table != std::string::npos);
  CHECK(keyed < slip);
  CHECK(slip < table);
  CHECK(text.find("; ends ") < table);
  CHECK(answer(words).find("; ends ") == std::string::npos);
  for (const std::string& line : lines_of(text.substr(0, table)))
    CHECK(count_characters(line) <= 79);
}

TEST_CASE("check --format keys: the time keyed and the slips; csv is one row a step as before") {
  const TemporaryFolder folder;
  const Words words = {"check", folder.file("p.csv", short_hold), "--casting", "slab-50"};
  auto keys = keys_of(answer(with(words, {"--format", "keys"})));
  // 4 min, 153 K at 7 K/h and 325 K at 20 K/h.
  CHECK(std::stod(keys["program_as_keyed_min"]) ==
        doctest::Approx(4.0 + 60.0 * (153.0 / 7.0 + 325.0 / 20.0)).epsilon(1e-5));
  CHECK(keys["program_as_keyed_own_pace_steps"] == "1");
  CHECK(keys["slips"] == "1");
  CHECK(keys["slip_1_step"] == "1");
  CHECK(keys["slip_1"].find("then key 240 min") != std::string::npos);
  CHECK(rows_of(answer(with(words, {"--format", "csv"}))).size() == 4);

  const Words gentle = {"check", "data/programs/slab-50-gentle.csv", "--casting", "slab-50"};
  CHECK(keys_of(answer(with(gentle, {"--format", "keys"})))["slips"] == "0");
  CHECK(answer(gentle).find("Look again") == std::string::npos);
}

TEST_CASE("check asks about the end of a program as the named controller takes it") {
  const TemporaryFolder folder;
  const Words words = {
      "check",
      folder.file("p.csv", "target_C,rate_C_per_h,hold_min\n513,asap,180\n360,7,0\n"),
      "--casting",
      "slab-50"};
  const auto slip_with = [&](const std::string& controller) {
    return keys_of(answer(with(words, {"--controller", controller, "--format", "keys"})))["slip_1"];
  };
  CHECK(slip_with("twelve-steps-by-time").find("holds 360 °C") != std::string::npos);
  CHECK(slip_with("ramp-and-hold-lines").find("main setpoint") != std::string::npos);
  CHECK(slip_with("ten-steps-by-rate").find("holds 360 °C") == std::string::npos);
}

TEST_CASE("check says first what the named controller cannot be told, and then is not fine") {
  const TemporaryFolder folder;
  const Words words = {"check",
                       folder.file("p.csv",
                                   "target_C,rate_C_per_h,hold_min\n513,asap,240\n420,1.5,0\n"
                                   "350,9.5,0\n50,14,0\n"),
                       "--casting",
                       "slab-50"};
  const auto with_box = [&](const std::string& controller) {
    return run_program(with(words, {"--controller", controller}));
  };
  const ProgramRun whole_degrees = with_box("ten-steps-by-rate");
  const ProgramRun any = run_program(words);
  CHECK(any.exit_status == 0);
  CHECK(any.output.find("cannot be keyed") == std::string::npos);
  // Rates between whole degrees are changed, which is said; those below the least cannot be told.
  CHECK(whole_degrees.output.find("keyed on this controller the program changes") !=
        std::string::npos);
  const Words slower = {"check",
                        folder.file("slower.csv",
                                    "target_C,rate_C_per_h,hold_min\n513,asap,240\n420,0.5,0\n"
                                    "350,5,0\n50,3,0\n"),
                        "--casting",
                        "slab-50",
                        "--controller"};
  const ProgramRun too_slow = run_program(with(slower, {"ten-steps-by-rate"}));
  CHECK(too_slow.exit_status == 1);
  CHECK(too_slow.output.find("It cannot be keyed into this controller") < 300);
  CHECK(keys_of(run_program(with(slower, {"ten-steps-by-rate", "--format", "keys"})).output)
            .at("can_be_keyed") == "no");
  const ProgramRun tenths = run_program(with(slower, {"twenty-steps-by-rate"}));
  CHECK(tenths.exit_status == 0);
  CHECK(tenths.output.find("cannot be keyed") == std::string::npos);
  CHECK(keys_of(run_program(with(slower, {"twenty-steps-by-rate", "--format", "keys"})).output)
            .at("can_be_keyed") == "yes");
}

TEST_CASE("check says beside the verdict that a cold beginning is taken as pieces") {
  const TemporaryFolder folder;
  const auto told = [&](const std::string& rows) {
    const Words words = {"check",
                         folder.file("p.csv", "target_C,rate_C_per_h,hold_min\n" + rows),
                         "--casting",
                         "slab-50",
                         "--confidence",
                         "off"};
    const std::string text = run_program(words).output;
    return text.substr(0, text.find("Keyed"));
  };
  const std::string tail = "513,asap,180\n360,7,0\n300,13,0\n35,28,0\n";
  CHECK(told("20,,0\n800,150,60\n" + tail).find("`thickset rewarm`") != std::string::npos);
  CHECK(told(tail).find("rewarm") == std::string::npos);
}

TEST_CASE("check says what a kiln that is late falls at, and nothing where it follows") {
  const TemporaryFolder folder;
  const auto told = [&](const std::string& last) {
    return run_program(
               {"check",
                folder.file("p.csv",
                            "target_C,rate_C_per_h,hold_min\n513,asap,180\n360,7,0\n" + last),
                "--casting",
                "slab-50",
                "--confidence",
                "off"})
        .output;
  };
  CHECK(told("35,28,0\n").find("it falls by itself at") != std::string::npos);
  CHECK(told("200,13,0\n").find("it falls by itself at") == std::string::npos);
}

TEST_CASE("a program that tail plans has no slip: several castings and all controllers") {
  const TemporaryFolder folder;
  const Words controllers = {"fifteen-steps-either-way",
                             "ramp-and-hold-lines",
                             "seven-steps-by-time",
                             "ten-steps-by-rate",
                             "ten-steps-by-rate-F",
                             "twelve-steps-by-time",
                             "twelve-steps-by-time-F",
                             "twenty-steps-by-rate"};
  const Words castings = {"slab-50", "ball-90", "rod-60", "slab-80-in-mould"};
  int checked = 0;
  for (std::size_t i = 0; i < controllers.size(); ++i) {
    for (std::size_t j = 0; j < castings.size(); ++j) {
      constexpr std::size_t stride = slow_build ? 16 : 4;
      if ((i + j) % stride != 0) continue;
      const Words made_for = {"--casting",
                              castings[j],
                              "--controller",
                              controllers[i],
                              "--kiln",
                              j % 2 == 0 ? "middling-brick" : "small-fibre"};
      CAPTURE(controllers[i]);
      CAPTURE(castings[j]);
      const std::string tail = answer(with({"tail", "--format", "csv"}, made_for));
      const Words words = {"check", folder.file("tail.csv", tail), "--format", "keys"};
      auto keys = keys_of(answer(with(words, made_for)));
      CHECK(keys["slips"] == "0");
      CHECK(keys["slip_1"] == "");
      ++checked;
    }
  }
  CHECK(checked >= (slow_build ? 1 : 8));
}

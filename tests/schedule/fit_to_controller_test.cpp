#include "schedule/fit_to_controller.h"

#include <algorithm>
#include <cmath>
#include <random>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "base/data_folder.h"
#include "schedule/keyable.h"
#include "schedule/notation.h"
#include "schedule/read_controller.h"

using namespace thickset;

namespace {

const std::string data = THICKSET_SOURCE "/data";
const Temperature hot = Temperature::from_C(800.0);
const Rate own_pace = Rate::from_K_per_h(250.0);

Controller shipped(const std::string& name) {
  return read_controller(data + "/controllers/" + name + ".controller");
}

FittedProgram fitted(const std::string& rows, const std::string& controller) {
  return fit_to_controller(parse_program("target_C,rate_C_per_h,hold_min\n" + rows, "p.csv"),
                           shipped(controller),
                           hot,
                           own_pace);
}

std::string written(const FittedProgram& fit) {
  return write_program(fit.program);
}

double ramp_h(const Program& program, std::size_t step) {
  return in_h(*ramp_time(program.steps[step].pace,
                         step == 0 ? *program.start : program.steps[step - 1].target,
                         program.steps[step].target));
}

// Arithmetic: 70/3.2, 47/5.5 and 331/18 hours.
const std::string three_stages = "498,,\n428,3.2,\n381,5.5,\n50,18,\n";

}  // namespace

// Arithmetic: 70/3.2 h = 1312.5 min, 47/5.5 h = 512.7 min, 331/18 h = 1103.3 min, all up.
TEST_CASE("fit: by time, minutes go up to whole ones") {
  const FittedProgram fit = fitted(three_stages, "seven-steps-by-time");
  CHECK(written(fit) == "target_C,minutes\n498,0\n428,1313\n381,513\n50,1104\n");
  CHECK(fit.cannot.empty());
  REQUIRE(fit.changes.size() == 3);
  CHECK(fit.changes[0] == "step 1: 1312.5 min becomes 1313 min, 0.5 min longer");
  CHECK(fit.changes[1] == "step 2: 512.73 min becomes 513 min, 0.3 min longer");
}

// Arithmetic: 70/3 = 23.33 h and 47/5 = 9.4 h against 21.875 h and 8.545 h: 2.3 h longer together.
TEST_CASE("fit: by whole degrees an hour, rates go down, and what that costs is told") {
  const FittedProgram fit = fitted(three_stages, "ten-steps-by-rate");
  CHECK(written(fit) == "target_C,rate_C_per_h,hold_min\n498,,0\n428,3,0\n381,5,0\n50,18,0\n");
  CHECK(ramp_h(fit.program, 0) == doctest::Approx(23.3).epsilon(2e-3));
  CHECK(ramp_h(fit.program, 1) == doctest::Approx(9.4).epsilon(1e-9));
  const double longer_h = ramp_h(fit.program, 0) + ramp_h(fit.program, 1) - 70.0 / 3.2 - 47.0 / 5.5;
  CHECK(longer_h == doctest::Approx(2.3).epsilon(0.02));
  REQUIRE(fit.changes.size() == 2);
  CHECK(fit.changes[0] == "step 1: 3.2 °C/h becomes 3 °C/h, 1.5 h longer");
  CHECK(fit.changes[1] == "step 2: 5.5 °C/h becomes 5 °C/h, 51.3 min longer");
}

// Arithmetic: 3.2, 5.5 and 18 C/h are 5.76, 9.9 and 32.4 F/h; 5, 9 and 32 F/h are 2.78, 5 and 17.8
// C/h.
TEST_CASE("fit: in F, rates are differences and go down too") {
  const FittedProgram fit = fitted(three_stages, "ten-steps-by-rate-F");
  CHECK(written(fit) == "target_F,rate_F_per_h,hold_min\n928.4,,0\n802,5,0\n717,9,0\n122,32,0\n");
  constexpr double half_last_printed_digit = 0.05;
  CHECK(std::get<Rate>(fit.program.steps[0].pace).in_K_per_h() ==
        doctest::Approx(2.78).epsilon(1e-3));
  CHECK(std::get<Rate>(fit.program.steps[1].pace).in_K_per_h() ==
        doctest::Approx(5.0).epsilon(1e-9));
  CHECK(std::abs(std::get<Rate>(fit.program.steps[2].pace).in_K_per_h() - 17.8) <
        half_last_printed_digit);
}

TEST_CASE("fit: 10 C/h is 18 F/h, never 50") {
  const FittedProgram fit = fitted("500,,\n400,10,\n", "ten-steps-by-rate-F");
  CHECK(std::get<Rate>(fit.program.steps[0].pace).in_F_per_h() == doctest::Approx(18.0));
  CHECK(fit.changes.empty());
}

// Arithmetic: 110 K at 0.5 C/h take 220 h = 13200 min: two steps of at most 9999, three of 99:59.
TEST_CASE("fit: a ramp longer than the controller allows is split at the same rate") {
  const FittedProgram two = fitted("490,,\n380,0.5,\n", "seven-steps-by-time");
  CHECK(written(two) == "target_C,minutes\n490,0\n435,6600\n380,6600\n");
  CHECK(two.changes.empty());
  REQUIRE(two.splits.size() == 1);
  CHECK(two.splits[0] ==
        "step 1: 13200 min is keyed as 2 steps of at most 9999 min, by way of 435 °C");
  CHECK(two.from_step == std::vector<int>{0, 0});
  CHECK(fitted("490,,\n380,0.5,\n", "twelve-steps-by-time").program.steps.size() == 3);
}

TEST_CASE("fit: a rate slower than the slowest cannot be keyed, and no split helps") {
  const FittedProgram fit = fitted("490,,\n380,0.5,\n", "ten-steps-by-rate");
  REQUIRE(fit.cannot.size() == 1);
  CHECK(fit.cannot[0] == "step 1: 0.5 °C/h is slower than the 1 °C/h this controller can be told");
  CHECK(std::get<Rate>(fit.program.steps[0].pace).in_K_per_h() == doctest::Approx(1.0));
}

// Arithmetic: 10 stairs of 11 K at 1 K/h take 110 h; as much again is held: 11 h each.
TEST_CASE("fit: stairs that would take as long as a rate too slow are named, not keyed") {
  const FittedProgram fit = fitted("490,,\n380,0.5,\n", "ten-steps-by-rate");
  CHECK(fit.program.steps.size() == 1);
  REQUIRE(fit.nearer.size() == 1);
  CHECK(
      fit.nearer[0] ==
      "step 1: 10 stairs of up to 11 °C at 1 °C/h, each held 660 min, would take as long as asked, "
      "but each runs at 2 times the asked rate: simulate them first");
  // Lines apart: two lines a stair, eight stairs of 14 C in sixteen lines.
  CHECK(fitted("490,,\n380,0.5,\n", "ramp-and-hold-lines")
            .nearer.at(0)
            .find("8 stairs of up to 14 °C") != std::string::npos);
  // One step is no stair.
  std::string full = "800,,\n";
  for (int i = 0; i < 9; ++i) full += fmt::format("{},10,\n", 790 - 10 * i);
  CHECK(fitted(full + "600,0.5,\n", "ten-steps-by-rate").nearer.empty());
  CHECK(fitted("490,,\n380,2,\n", "ten-steps-by-rate").nearer.empty());
}

TEST_CASE("fit: what a program loses is the time by which it differs from the one asked") {
  CHECK(in_h(fitted("490,,\n380,0.5,\n", "seven-steps-by-time").lost) == doctest::Approx(0.0));
  // Asked 220 h; at 1 C/h 110 h. Asked 70/3.2 = 21.875 h; at 3 C/h 23.333 h.
  CHECK(in_h(fitted("490,,\n380,0.5,\n", "ten-steps-by-rate").lost) == doctest::Approx(110.0));
  CHECK(in_h(fitted("498,,\n428,3.2,\n", "ten-steps-by-rate").lost) ==
        doctest::Approx(70.0 / 3.0 - 70.0 / 3.2));
  CHECK(in_min(fitted("498,,\n498,5,2000.5\n", "seven-steps-by-time").lost) ==
        doctest::Approx(0.5));
}

TEST_CASE("fit: a degree that takes longer than the longest time cannot be keyed by time") {
  const FittedProgram fit = fitted("490,,\n489,0.005,\n", "seven-steps-by-time");
  REQUIRE(fit.cannot.size() == 1);
  CHECK(fit.cannot[0] == "step 1: 1 °C in 12000 min is slower than this controller can be told");
}

TEST_CASE("fit: a hold longer than the controller allows becomes several") {
  const FittedProgram lines = fitted("498,,\n498,5,2000.5\n", "ramp-and-hold-lines");
  CHECK(written(lines).find("498,250,667\n498,250,667\n498,250,667\n") != std::string::npos);
  CHECK(lines.splits.size() == 1);
  REQUIRE(lines.changes.size() == 1);
  CHECK(lines.changes[0] ==
        "step 1 (keyed as 1 to 3): 2000.5 min becomes 2001 min, 0.5 min longer");
  const FittedProgram rows = fitted("498,,\n400,5,20000\n", "seven-steps-by-time");
  CHECK(written(rows) == "target_C,minutes\n498,0\n400,1176\n400,6667\n400,6667\n400,6667\n");
}

TEST_CASE("fit: a ramp and its hold are one step by rate, two rows by time") {
  CHECK(written(fitted("800,,\n498,asap,240\n", "ten-steps-by-rate")) ==
        "target_C,rate_C_per_h,hold_min\n800,,0\n498,asap,240\n");
  CHECK(written(fitted("800,,\n498,asap,240\n", "seven-steps-by-time")) ==
        "target_C,minutes\n800,0\n498,asap\n498,240\n");
}

TEST_CASE("fit: as fast as possible without a key becomes the kiln's own pace, no faster") {
  const FittedProgram by_rate = fitted("800,,\n498,asap,240\n", "twenty-steps-by-rate");
  CHECK(written(by_rate) == "target_C,rate_C_per_h,hold_min\n800,,0\n498,250,240\n");
  REQUIRE(by_rate.changes.size() == 1);
  CHECK(by_rate.changes[0] ==
        "step 1: as fast as possible becomes 250 °C/h, as this controller has no key for it");
  // Arithmetic: 302 K at 250 C/h take 72.48 min.
  const FittedProgram by_time = fitted("800,,\n498,asap,240\n", "twelve-steps-by-time");
  CHECK(written(by_time) == "target_C,minutes\n800,0\n498,73\n498,240\n");
}

TEST_CASE("fit: a hold goes to the nearest degree, the bottom of the slower ramp further") {
  const FittedProgram down =
      fitted("800,,\n498.6,asap,60\n428.4,3,\n381.6,9,\n", "ten-steps-by-rate");
  CHECK(written(down) == "target_C,rate_C_per_h,hold_min\n800,,0\n499,asap,60\n428,3,0\n381,9,0\n");
  REQUIRE(down.changes.size() == 3);
  CHECK(down.changes[1] == "step 2: 428.4 °C becomes 428 °C");
  const FittedProgram up = fitted("500,,\n428.4,9,\n381.6,3,\n", "ten-steps-by-rate");
  CHECK(up.program.steps[0].target.in_C() == doctest::Approx(429.0));
}

TEST_CASE("fit: times are taken from the rounded targets, so that none is faster than asked") {
  // 498.6 to 428.4 at 3 C/h take 1404 min; rounded, 499 to 428 take 1420.
  const FittedProgram fit =
      fitted("800,,\n498.6,asap,60\n428.4,3,\n381.6,9,\n", "seven-steps-by-time");
  CHECK(std::get<Duration>(fit.program.steps[2].pace) == minutes(1420.0));
}

TEST_CASE("fit: a ramp smaller than the display becomes a hold of its time") {
  const FittedProgram fit = fitted("500,,\n499.8,1,60\n400,5,\n", "seven-steps-by-time");
  CHECK(written(fit) == "target_C,minutes\n500,0\n500,12\n500,60\n400,1200\n");
}

TEST_CASE("fit: a stored start is rounded and added, a start from the reading is left alone") {
  const Program p = parse_program("target_C,minutes\n400,600\n", "p.csv");
  const Temperature start = Temperature::from_C(500.3);
  const FittedProgram stored =
      fit_to_controller(p, shipped("twelve-steps-by-time"), start, own_pace);
  REQUIRE(stored.program.start.has_value());
  CHECK(stored.program.start->in_C() == doctest::Approx(500.0));
  CHECK(stored.changes[0] == "the start: 500.3 °C becomes 500 °C");
  CHECK_FALSE(fit_to_controller(p, shipped("seven-steps-by-time"), start, own_pace)
                  .program.start.has_value());
}

TEST_CASE("fit: too many steps and targets out of range are told") {
  std::string rows = "800,,\n";
  for (int i = 0; i < 8; ++i) rows += fmt::format("{},10,\n", 700 - 50 * i);
  const FittedProgram many = fitted(rows, "seven-steps-by-time");
  REQUIRE(many.cannot.size() == 1);
  CHECK(many.cannot[0] == "the program takes 8 steps, this controller has 7");
  CHECK(many.program.steps.size() == 8);
  const FittedProgram high = fitted("800,,\n1350,10,\n", "ten-steps-by-rate");
  REQUIRE(high.cannot.size() == 1);
  CHECK(high.cannot[0] == "step 1: 1350 °C is outside the 0 to 1300 °C of this controller");
  CHECK(high.program.steps[0].target.in_C() == doctest::Approx(1300.0));
}

TEST_CASE("fit: no time is too short to be keyed") {
  const FittedProgram fit = fitted("500,,\n500,5,1e-9\n400,5,0\n", "seven-steps-by-time");
  CHECK(written(fit) == "target_C,minutes\n500,0\n500,1\n400,1200\n");
}

TEST_CASE("fit: an exact program stays as it is and says so") {
  for (const char* const name : {"ten-steps-by-rate", "twenty-steps-by-rate"}) {
    const FittedProgram fit = fitted("500,,\n450,5,60\n50,20,\n", name);
    CHECK(written(fit) == "target_C,rate_C_per_h,hold_min\n500,,0\n450,5,60\n50,20,0\n");
    CHECK(fit.changes.empty());
    CHECK(fit.splits.empty());
    CHECK(fit.cannot.empty());
  }
}

namespace {

/// Ramps and holds of any size, in either notation, warm or cold start.
Program some_program(std::mt19937_64& random) {
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>{low, high}(random);
  };
  Program program;
  program.notation = random() % 2 == 0 ? Notation::rate : Notation::time;
  if (random() % 2 == 0) program.start = Temperature::from_C(between(20.0, 900.0));
  const std::size_t count = 1 + random() % 6;
  for (std::size_t i = 0; i < count; ++i) {
    const Temperature target = Temperature::from_C(between(30.0, 900.0));
    Pace pace = AsFastAsPossible{};
    if (random() % 6 != 0) {
      pace = program.notation == Notation::rate
                 ? Pace{Rate::from_K_per_h(std::pow(10.0, between(-1.5, 3.5)))}
                 : Pace{minutes(std::pow(10.0, between(0.0, 5.0)))};
    }
    const Duration hold = program.notation == Notation::rate && random() % 2 == 0
                              ? minutes(between(0.0, 20000.0))
                              : minutes(0.0);
    program.steps.push_back({target, pace, hold, {}, ""});
    if (program.notation == Notation::time && random() % 3 == 0) {
      program.steps.push_back({target, minutes(between(1.0, 20000.0)), {}, {}, ""});
    }
  }
  return program;
}

double rate_K_per_s(const Leg& leg) {
  return std::abs((leg.to - *leg.from).in_K()) / in_s(*ramp_time(leg.pace, *leg.from, leg.to));
}

bool is_whole(double value, double step) {
  constexpr double of_a_step = 1e-6;
  return std::abs(value / step - std::round(value / step)) < of_a_step;
}

}  // namespace

TEST_CASE("fit: on every shipped controller no random program runs faster than asked") {
  constexpr double rounding = 1e-9;  // of a rate, converted to the controller's degrees and back
  std::mt19937_64 random{42};
  int fully_keyed = 0;
  for (const std::string& name : data_names(data, "controllers", "controller")) {
    const Controller controller = shipped(name);
    CAPTURE(name);
    for (int i = 0; i < 400; ++i) {
      const Program program = some_program(random);
      const FittedProgram fit = fit_to_controller(program, controller, hot, own_pace);
      CAPTURE(write_program(program));
      CAPTURE(write_program(fit.program));
      REQUIRE(fit.program.steps.size() == fit.from_step.size());
      CHECK(fit.program.notation == controller.notation());
      CHECK(fit.program.degrees == controller.degrees);
      if (!fit.cannot.empty()) continue;
      ++fully_keyed;
      CHECK(steps_used(fit.program, controller) <= controller.steps);

      std::vector<double> asked(program.steps.size(), own_pace.in_K_per_s());
      double asked_hold_s = 0.0;
      for (const Leg& leg : legs(program, hot)) {
        if (leg.is_hold) {
          asked_hold_s += in_s(std::get<Duration>(leg.pace));
        } else if (!std::holds_alternative<AsFastAsPossible>(leg.pace)) {
          asked[static_cast<std::size_t>(leg.step)] = rate_K_per_s(leg);
        }
      }
      double hold_s = 0.0;
      for (const Leg& leg : legs(fit.program, hot)) {
        const auto index = static_cast<std::size_t>(leg.step);
        CHECK(is_whole(in_degrees(leg.to, controller.degrees), controller.degree_step));
        if (const auto* const time = std::get_if<Duration>(&leg.pace)) {
          CHECK(*time <= controller.longest_time);
          CHECK(is_whole(in_s(*time), in_s(controller.time_step)));
        }
        if (const auto* const rate = std::get_if<Rate>(&leg.pace)) {
          CHECK(is_whole(in_degrees_per_h(*rate, controller.degrees), controller.rate_step_per_h));
        }
        if (leg.is_hold) {
          hold_s += in_s(std::get<Duration>(leg.pace));
        } else if (!std::holds_alternative<AsFastAsPossible>(leg.pace)) {
          CHECK(rate_K_per_s(leg) <=
                asked[static_cast<std::size_t>(fit.from_step[index])] * (1.0 + rounding));
        }
      }
      CHECK(hold_s >= asked_hold_s * (1.0 - rounding));
    }
  }
  CHECK(fully_keyed > 200);  // the checks above must have had something to look at
}

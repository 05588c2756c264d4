#include "schedule/notation.h"

#include <random>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "message_of.h"

using namespace thickset;

namespace {

std::string parsing(std::string_view text) {
  return message_of([&] { parse_program(text, "p.csv"); });
}

bool same(const Program& a, const Program& b) {
  if (a.start != b.start || a.notation != b.notation || a.degrees != b.degrees) return false;
  if (a.steps.size() != b.steps.size()) return false;
  for (std::size_t i = 0; i < a.steps.size(); ++i) {
    const Step& x = a.steps[i];
    const Step& y = b.steps[i];
    if (x.target != y.target || x.pace != y.pace || x.hold != y.hold) return false;
  }
  return true;
}

/// A number as a person or a program might write it: from whole to all the digits of a double.
std::string some_number(std::mt19937_64& random, double low, double high) {
  const double value = std::uniform_real_distribution<double>{low, high}(random);
  const int decimals = std::uniform_int_distribution<int>{0, 13}(random);
  return fmt::format("{:.{}f}", value, decimals);
}

std::string some_program(std::mt19937_64& random, const std::string& header, bool by_rate) {
  std::string text = header + "\n";
  const bool in_C = header.find("target_C") == 0;
  const auto target = [&] {
    return in_C ? some_number(random, -20.0, 1400.0) : some_number(random, -4.0, 2552.0);
  };
  if (random() % 2 == 0) text += target() + (by_rate ? ",,\n" : ",0\n");
  for (std::size_t row = 0; row < 12; ++row) {
    const std::string pace = random() % 5 == 0 ? "asap" : some_number(random, 0.6, 5000.0);
    text += target() + "," + pace + (by_rate ? "," + some_number(random, 0.0, 9000.0) : "") + "\n";
  }
  return text;
}

}  // namespace

TEST_CASE("program: rate notation is read with its start, paces and holds") {
  const Program p = parse_program(
      "# a tail\n"
      "target_C,rate_C_per_h,hold_min\n"
      "800,,\n"
      "498,asap,240\n"
      "428,3.2,\n"
      "381,-5.5,0\n",
      "p.csv");
  CHECK(p.notation == Notation::rate);
  CHECK(p.degrees == Degrees::celsius);
  CHECK(*p.start == Temperature::from_C(800.0));
  REQUIRE(p.steps.size() == 3);
  CHECK(std::holds_alternative<AsFastAsPossible>(p.steps[0].pace));
  CHECK(p.steps[0].hold == minutes(240.0));
  CHECK(std::get<Rate>(p.steps[1].pace) == Rate::from_K_per_h(3.2));
  CHECK(p.steps[1].hold == minutes(0.0));
  CHECK(std::get<Rate>(p.steps[2].pace) == Rate::from_K_per_h(5.5));
  CHECK(to_string(p.steps[2].place) == "p.csv:6:5");
}

TEST_CASE("program: time notation in F is read, a column of step numbers is read over") {
  const Program p = parse_program(
      "step,target_F,minutes\n0,1472,0\n1,930,asap\n2,930,240\n3,800,1300.5\n", "p.csv");
  CHECK(p.notation == Notation::time);
  CHECK(p.degrees == Degrees::fahrenheit);
  CHECK(p.start->in_C() == doctest::Approx(800.0).epsilon(1e-12));
  REQUIRE(p.steps.size() == 3);
  CHECK(std::get<Duration>(p.steps[2].pace) == minutes(1300.5));
}

// The traps of notation: by definition of the scales a difference of 10 C is one of 18 F, never 50.
TEST_CASE("program: a rate in F is a difference and takes no 32") {
  const Program p =
      parse_program("target_F,rate_F_per_h,hold_min\n930,18,\n700,5,\n600,9,\n", "p.csv");
  CHECK(std::get<Rate>(p.steps[0].pace).in_K_per_h() == doctest::Approx(10.0).epsilon(1e-12));
  CHECK(std::get<Rate>(p.steps[1].pace).in_K_per_h() == doctest::Approx(2.78).epsilon(1e-3));
  CHECK(std::get<Rate>(p.steps[2].pace).in_K_per_h() == doctest::Approx(5.0).epsilon(1e-12));
  const Program in_F =
      in_notation(parse_program("target_C,rate_C_per_h,hold_min\n500,10,\n", "p.csv"),
                  Notation::rate,
                  Degrees::fahrenheit,
                  Temperature::from_C(20.0));
  CHECK(write_program(in_F) == "target_F,rate_F_per_h,hold_min\n932,18,0\n");
}

TEST_CASE("program: each fault of a header has its message") {
  CHECK(parsing("target_C,rate_F_per_h,hold_min\n500,5,0\n") ==
        "p.csv:1:1: the header \"target_C,rate_F_per_h,hold_min\" mixes C and F; write target and "
        "rate in the same degrees");
  CHECK(parsing("target_C,minute\n500,5\n") ==
        "p.csv:1:1: the header \"target_C,minute\" is no form of a program; did you mean "
        "target_C,minutes?");
  CHECK(parsing("a,b\n500,5\n") ==
        "p.csv:1:1: the header \"a,b\" is no form of a program; write "
        "target_C,rate_C_per_h,hold_min or target_F,rate_F_per_h,hold_min or target_C,minutes or "
        "target_F,minutes; the header of a log is such as time,air_C");
  CHECK(parsing("step\n1\n").find("is no form of a program") != std::string::npos);
}

TEST_CASE("program: each fault of a target has its message") {
  const std::string header = "target_C,minutes\n";
  CHECK(parsing(header + ",5\n") == "p.csv:2:1: target_C is empty; write the temperature to reach");
  CHECK(parsing(header + "500C,5\n") ==
        "p.csv:2:1: \"500C\" in target_C is not a number; write the number alone, the header gives "
        "its unit");
  for (const char* const bad : {"nan", "inf", "-inf", "0x1F4", "1e999", "5 00", "--5"}) {
    CAPTURE(bad);
    CHECK(parsing(header + bad + ",5\n").find("is not a number") != std::string::npos);
  }
  CHECK(
      parsing(header + "1401,5\n") ==
      "p.csv:2:1: target 1401 C is outside -20 to 1400 C; check the digits and the degrees in the "
      "header");
  CHECK(parsing(header + "-21,5\n").find("target -21 C is outside") != std::string::npos);
  CHECK(parsing("target_F,minutes\n2553,5\n").find("2553 F is outside -4 to 2552 F") !=
        std::string::npos);
}

TEST_CASE("program: each fault of a rate has its message") {
  const std::string header = "target_C,rate_C_per_h,hold_min\n500,,\n";
  CHECK(parsing(header + "400,0,0\n") ==
        "p.csv:3:5: a rate of 0 never arrives; write how fast to go, or asap for the kiln's own "
        "pace; delete the row where its 0 only marks the end of the program");
  CHECK(parsing(header + "400,1e-300,0\n") ==
        "p.csv:3:5: rate 1e-300 C/h takes years; check the digits");
  CHECK(parsing(header + "400,10000,0\n") ==
        "p.csv:3:5: rate 10000 C/h is above 9999; write asap for the kiln's own pace");
  CHECK(parsing(header + "600,-5,0\n") ==
        "p.csv:3:5: the sign of rate -5 does not fit a step that heats; leave the sign out, or "
        "check the target");
  CHECK(parsing(header + "400,+5,0\n").find("does not fit a step that cools") != std::string::npos);
  CHECK(parsing(header + "400,-5,0\n") == "no error");
  CHECK(
      parsing(header + "400,,0\n") ==
      "p.csv:3:5: the rate is empty; only a first row, the start, has none; write how fast to go, "
      "or asap");
  CHECK(parsing("target_C,rate_C_per_h,hold_min\n500,,10\n400,5,0\n") ==
        "p.csv:2:6: a start row has no hold; write the hold as a row of its own, with a rate");
  CHECK(parsing("target_F,rate_F_per_h,hold_min\n500,17999,0\n").find("is above 17998") !=
        std::string::npos);
}

TEST_CASE("program: each fault of a time has its message") {
  const std::string header = "target_C,minutes\n500,0\n";
  CHECK(parsing(header + "400,-5\n") ==
        "p.csv:3:5: minutes -5: times run backwards; write how long the step takes");
  CHECK(parsing("target_C,rate_C_per_h,hold_min\n500,5,-1\n") ==
        "p.csv:2:7: hold_min -1: times run backwards; write how long the step takes");
  CHECK(parsing(header + "400,1440001\n") ==
        "p.csv:3:5: minutes 1440001 is over 1000 days; check the digits");
  CHECK(parsing(header + "400,\n") ==
        "p.csv:3:5: minutes is empty; write how long the step takes, or asap");
  CHECK(parsing(header + "400,0\n") ==
        "p.csv:3:5: 0 minutes; only a first row, the start, takes no time; write how long the step "
        "takes, or asap; delete the row where its 0 only marks the end of the program");
  CHECK(parsing(header + "400,5:30\n") ==
        "p.csv:3:5: \"5:30\" in minutes is hours and minutes; write 330, in minutes");
  CHECK(parsing("target_C,rate_C_per_h,hold_min\n500,5,1:05\n") ==
        "p.csv:2:7: \"1:05\" in hold_min is hours and minutes; write 65, in minutes");
  for (const char* const bad : {"5:3", "5:60", ":30", "5:30:00", "-5:30", "5:-3", "123456:00"}) {
    CAPTURE(bad);
    CHECK(parsing(header + "400," + bad + "\n").find("is not a number") != std::string::npos);
  }
  CHECK(parsing(header + "400,nan\n").find("is not a number") != std::string::npos);
}

TEST_CASE("program: no step, too many rows and uneven rows are refused") {
  CHECK(parsing("target_C,minutes\n500,0\n") ==
        "p.csv: the program has a start but no step; add the steps");
  std::string many = "target_C,minutes\n";
  for (int i = 0; i < 1001; ++i) many += "500,5\n";
  CHECK(parsing(many) ==
        "p.csv:1002:1: a program of more than 1000 rows; a log is not a program; write its steps");
  CHECK(parsing("target_C,minutes\n500\n") != "no error");
  CHECK(parsing("target_C,minutes\n500,5,5\n") != "no error");
  CHECK(parsing("") != "no error");
}

TEST_CASE("program: semicolons and decimal commas read as commas and points do") {
  const Program with_commas =
      parse_program("target_C,rate_C_per_h,hold_min\n513,asap,180\n35,20.5,0\n", "p.csv");
  for (const char* text : {"target_C;rate_C_per_h;hold_min\n513;asap;180\n35;20,5;0\n",
                           "target_C\trate_C_per_h\thold_min\n513\tasap\t180\n35\t20.5\t0\n"}) {
    CHECK(write_program(parse_program(text, "p.csv")) == write_program(with_commas));
  }
  CHECK(parsing("target_C;minutes\n513;1.000,5\n").find("is not a number") != std::string::npos);
}

TEST_CASE("program: all bad rows are told at once") {
  const std::string message = parsing("target_C,minutes\n500,-1\n,5\n400,60\n9999,5\n");
  CHECK(message.find("p.csv:2:5") != std::string::npos);
  CHECK(message.find("p.csv:3:1") != std::string::npos);
  CHECK(message.find("p.csv:5:1") != std::string::npos);
  CHECK(message.find("p.csv:4") == std::string::npos);
}

TEST_CASE("program: what was read is written and read back the same, to the last bit") {
  std::mt19937_64 random{20250101};
  for (int i = 0; i < 500; ++i) {
    const bool by_rate = i % 2 == 0;
    const std::string header =
        by_rate ? (i % 4 == 0 ? "target_C,rate_C_per_h,hold_min" : "target_F,rate_F_per_h,hold_min")
                : (i % 4 == 1 ? "target_C,minutes" : "target_F,minutes");
    const std::string text = some_program(random, header, by_rate);
    CAPTURE(text);
    const Program read = parse_program(text, "p.csv");
    const std::string written = write_program(read, {"two\nlines"});
    CHECK(same(read, parse_program(written, "q.csv")));
    CHECK(write_program(parse_program(written, "q.csv"), {"two\nlines"}) == written);
  }
}

TEST_CASE("program: numbers are written with no more digits than they need") {
  const std::string text = "target_C,rate_C_per_h,hold_min\n800,,0\n498,asap,240\n428,3.2,0\n";
  CHECK(write_program(parse_program(text, "p.csv")) == text);
  const std::string in_F = "target_F,minutes\n1472,0\n930,asap\n930,240.5\n";
  CHECK(write_program(parse_program(in_F, "p.csv")) == in_F);
}

TEST_CASE("program: comments stand above the header and above their step") {
  Program p = parse_program("target_C,minutes\n498,60\n", "p.csv");
  p.steps[0].comment = "hold";
  CHECK(write_program(p, {"for a slab"}) == "# for a slab\ntarget_C,minutes\n# hold\n498,60\n");
}

TEST_CASE("in_notation: rates become times and back, holds part and join") {
  const std::string text =
      "target_C,rate_C_per_h,hold_min\n800,,0\n500,asap,240\n450,5,0\n350,10,60\n";
  const Program by_rate = parse_program(text, "p.csv");
  const Temperature start = Temperature::from_C(20.0);
  const Program by_time = in_notation(by_rate, Notation::time, Degrees::celsius, start);
  CHECK(write_program(by_time) ==
        "target_C,minutes\n800,0\n500,asap\n500,240\n450,600\n350,600\n350,60\n");
  const Program back = in_notation(by_time, Notation::rate, Degrees::celsius, start);
  REQUIRE(back.steps.size() == 3);
  constexpr double rounding = 1e-12;  // of the two divisions there and back
  CHECK(std::get<Rate>(back.steps[1].pace).in_K_per_h() == doctest::Approx(5.0).epsilon(rounding));
  CHECK(back.steps[0].hold == minutes(240.0));
  CHECK(back.steps[2].hold == minutes(60.0));
}

TEST_CASE("in_notation: a hold that begins the program is a step at the kiln's own pace") {
  const Program by_time = parse_program("target_C,minutes\n500,0\n500,60\n400,600\n", "p.csv");
  const Program by_rate =
      in_notation(by_time, Notation::rate, Degrees::celsius, Temperature::from_C(500.0));
  REQUIRE(by_rate.steps.size() == 2);
  CHECK(std::holds_alternative<AsFastAsPossible>(by_rate.steps[0].pace));
  CHECK(by_rate.steps[0].hold == minutes(60.0));
}

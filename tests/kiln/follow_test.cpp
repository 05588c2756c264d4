#include "kiln/follow.h"

#include <algorithm>
#include <cmath>
#include <random>

#include <doctest/doctest.h>

#include "schedule/notation.h"

using namespace thickset;
using Late = Controller::LateOnCooling;

namespace {

Temperature C(double t_C) {
  return Temperature::from_C(t_C);
}
double in_C(double T_K) {
  return T_K - Temperature::zero_C_in_K;
}

/// A kiln with one time constant, 4 h, so that every answer is an exponential.
Kiln newton_kiln(double room_C = 20.0) {
  Kiln kiln{
      .name = "newton",
      .title = "",
      .natural_cooling = {{{C(480.0), Rate::from_K_per_h((480.0 - room_C) / 4.0)}}, C(room_C)},
      .assumed = {}};
  kiln.fastest_heating = Rate::from_K_per_h(200.0);
  return kiln;
}

FollowedProgram followed(const std::string& rows, Late late, double start_C) {
  return follow(parse_program("target_C,rate_C_per_h,hold_min\n" + rows, "p.csv"),
                newton_kiln(),
                late,
                C(start_C));
}

double end_h(const FollowedProgram& run) {
  return run.air.end_s() / 3600.0;
}
double at_C(const FollowedProgram& run, double time_h) {
  return in_C(run.air.at_K(time_h * 3600.0));
}

/// Time for the kiln to fall by itself, in h.
double falls_h(double from_C, double to_C) {
  return 4.0 * std::log((from_C - 20.0) / (to_C - 20.0));
}

constexpr double curve_K = 0.05;  // promised distance of the straight lines from the curve
constexpr double time_rounding = 1e-9;

}  // namespace

TEST_CASE("follow: a program the kiln can follow is followed to the corner") {
  for (const Late late : {Late::waits, Late::goes_on, Late::stops}) {
    const FollowedProgram run = followed("450,5,60\n300,20,0\n", late, 500.0);
    CHECK(run.late.empty());
    CHECK_FALSE(run.broken_off);
    REQUIRE(run.air.corners.size() == 4);
    CHECK(run.air.corners[0].step == -1);
    CHECK(run.air.corners[1].time_s == doctest::Approx(36000.0).epsilon(time_rounding));
    CHECK(run.air.corners[2].step == 0);
    CHECK(run.air.corners[3].step == 1);
    CHECK(at_C(run, 5.0) == doctest::Approx(475.0).epsilon(time_rounding));
    CHECK(at_C(run, 10.5) == doctest::Approx(450.0).epsilon(time_rounding));
    CHECK(end_h(run) == doctest::Approx(18.5).epsilon(time_rounding));
  }
}

TEST_CASE("follow: the kiln's own pace is natural cooling down and full power up") {
  const FollowedProgram run = followed("480,asap,60\n880,asap,0\n", Late::goes_on, 800.0);
  const double down_h = falls_h(800.0, 480.0);
  CHECK(end_h(run) == doctest::Approx(down_h + 1.0 + 2.0).epsilon(time_rounding));
  CHECK(run.late.empty());
  CHECK(run.air.corners.size() < 40);
  for (double t_h = 0.0; t_h < down_h; t_h += 0.01) {
    CHECK(std::abs(at_C(run, t_h) - (20.0 + 780.0 * std::exp(-t_h / 4.0))) <= curve_K);
  }
}

// 500 to 480 C asked in 6 min; the kiln takes 4 h ln(480/460).
TEST_CASE("follow: a controller that waits counts the hold from when the kiln is there") {
  const FollowedProgram run = followed("480,200,60\n", Late::waits, 500.0);
  CHECK(end_h(run) == doctest::Approx(falls_h(500.0, 480.0) + 1.0).epsilon(time_rounding));
  REQUIRE(run.late.size() == 1);
  CHECK(run.late[0].step == 0);
  CHECK(in_h(run.late[0].late) == doctest::Approx(falls_h(500.0, 480.0) - 0.1).epsilon(1e-6));
  const double at_end_C = 20.0 + 480.0 * std::exp(-0.1 / 4.0);
  CHECK(run.late[0].above.in_K() == doctest::Approx(at_end_C - 480.0).epsilon(1e-6));
}

TEST_CASE("follow: a controller that goes on by the clock shortens the hold by the lateness") {
  const FollowedProgram run = followed("480,200,60\n470,5,0\n", Late::goes_on, 500.0);
  CHECK(end_h(run) == doctest::Approx(0.1 + 1.0 + 2.0).epsilon(time_rounding));
  REQUIRE(run.late.size() == 1);
  CHECK(at_C(run, 0.1) == doctest::Approx(20.0 + 480.0 * std::exp(-0.1 / 4.0)).epsilon(1e-6));
  CHECK(at_C(run, falls_h(500.0, 480.0) + 0.01) == doctest::Approx(480.0).epsilon(1e-9));
  CHECK(at_C(run, 2.1) == doctest::Approx(475.0).epsilon(1e-9));
}

TEST_CASE("follow: a controller that stops leaves the kiln to fall to the room") {
  const FollowedProgram run = followed("480,200,600\n470,5,0\n", Late::stops, 500.0);
  CHECK(run.broken_off);
  REQUIRE(run.late.size() == 1);
  CHECK(at_C(run, 4.0) == doctest::Approx(20.0 + 480.0 * std::exp(-1.0)).epsilon(1e-3));
  CHECK(in_C(run.air.corners.back().T_K) == doctest::Approx(21.0).epsilon(1e-9));
}

TEST_CASE("follow: less than a minute late is not late") {
  // 500 to 480 C at 117 C/h take 10.3 min, the kiln's own 10.2.
  CHECK(followed("480,117,60\n", Late::stops, 500.0).late.empty());
  CHECK_FALSE(followed("480,120,60\n", Late::stops, 500.0).broken_off);
}

// 20 C/h is as fast as the kiln at 100 C; from there it lags behind the setpoint.
TEST_CASE("follow: on a long ramp the kiln leaves the setpoint where it can no longer follow") {
  const FollowedProgram run = followed("40,20,0\n", Late::goes_on, 300.0);
  CHECK(at_C(run, 10.0) == doctest::Approx(100.0).epsilon(1e-9));
  for (double t_h = 10.0; t_h < 13.0; t_h += 0.1) {
    CHECK(std::abs(at_C(run, t_h) - (20.0 + 80.0 * std::exp(-(t_h - 10.0) / 4.0))) <= curve_K);
  }
  REQUIRE(run.late.size() == 1);
  CHECK(in_h(run.late[0].late) == doctest::Approx(falls_h(100.0, 40.0) - 3.0).epsilon(1e-6));
}

// Rounding may put the kiln a last digit above a point of its natural cooling, where the fall that
// is left to the point takes no time that the clock can show.
TEST_CASE("follow: a ramp as fast as the kiln is at one of its points ends, wherever it began") {
  Kiln kiln = newton_kiln();
  kiln.natural_cooling = {
      {{C(500.0), Rate::from_K_per_h(130.0)}, {C(100.0), Rate::from_K_per_h(9.0)}}, C(20.0)};
  for (int i = 0; i < 2000; ++i) {
    CAPTURE(i);
    const double hold_h = 0.1 + 0.137 * i;
    const Program program{
        .start = std::nullopt,
        .steps = {
            {.target = C(220.0 + 0.0371 * i), .pace = hours(hold_h), .hold = hours(0.3 * hold_h)},
            {.target = C(35.0), .pace = Rate::from_K_per_h(9.0)}}};
    const FollowedProgram run = follow(program, kiln, Late::waits, C(450.0));
    CHECK(std::abs(in_C(run.air.corners.back().T_K) - 35.0) <= 1e-6);
    CHECK(run.air.corners.size() < 300);
  }
}

TEST_CASE("follow: a late kiln catches up with a slower setpoint and stays on it") {
  const FollowedProgram run = followed("400,400,0\n300,10,0\n", Late::goes_on, 500.0);
  CHECK(at_C(run, 0.25) > 400.0);
  // On the second ramp the setpoint is 400 - 10 (t - 0.25): met once the kiln has fallen to it.
  CHECK(at_C(run, 3.25) == doctest::Approx(370.0).epsilon(1e-9));
  for (double t_h = 0.25; t_h < 10.25; t_h += 0.05) {
    CHECK(at_C(run, t_h) >= 400.0 - 10.0 * (t_h - 0.25) - 1e-6);
  }
}

TEST_CASE("follow: a start row away from the kiln makes the setpoint jump, not the kiln") {
  const FollowedProgram cold = followed("500,,\n500,asap,60\n480,10,0\n", Late::goes_on, 300.0);
  CHECK(at_C(cold, 0.5) == doctest::Approx(400.0).epsilon(1e-9));
  const Program by_time = parse_program("target_C,minutes\n500,0\n500,120\n480,120\n", "p.csv");
  const FollowedProgram goes_on = follow(by_time, newton_kiln(), Late::goes_on, C(300.0));
  CHECK(end_h(goes_on) == doctest::Approx(4.0).epsilon(time_rounding));
  REQUIRE(goes_on.late.size() == 1);
  CHECK(in_h(goes_on.late[0].late) == doctest::Approx(1.0).epsilon(time_rounding));
  CHECK(goes_on.late[0].above.in_K() == doctest::Approx(-200.0).epsilon(time_rounding));
  const FollowedProgram waits = follow(by_time, newton_kiln(), Late::waits, C(300.0));
  CHECK(end_h(waits) == doctest::Approx(5.0).epsilon(time_rounding));
  const FollowedProgram hot = follow(by_time, newton_kiln(), Late::goes_on, C(600.0));
  CHECK(at_C(hot, 0.1) == doctest::Approx(20.0 + 580.0 * std::exp(-0.1 / 4.0)).epsilon(1e-4));
}

TEST_CASE("follow: heating is no faster than the kiln can, and late heating is told") {
  const FollowedProgram run = followed("500,400,0\n", Late::waits, 100.0);
  CHECK(end_h(run) == doctest::Approx(2.0).epsilon(time_rounding));
  REQUIRE(run.late.size() == 1);
  CHECK(in_h(run.late[0].late) == doctest::Approx(1.0).epsilon(time_rounding));
  CHECK(run.late[0].above.in_K() == doctest::Approx(-200.0).epsilon(time_rounding));
}

TEST_CASE("follow: a target at or below the room ends 1 K above it instead of never") {
  for (const char* const rows : {"20,20,0\n", "20,asap,0\n", "0,20,60\n", "0,asap,60\n"}) {
    const FollowedProgram run = followed(rows, Late::waits, 300.0);
    CAPTURE(rows);
    CHECK(std::isfinite(run.air.end_s()));
    CHECK(in_C(run.air.corners.back().T_K) >= 20.0);
    CHECK(in_C(run.air.corners.back().T_K) <= 21.0 + 1e-9);
  }
}

TEST_CASE("air curve: before, between, after and at a jump") {
  const AirCurve curve{{{0.0, 300.0, -1}, {10.0, 400.0, 0}, {10.0, 500.0, 0}, {20.0, 500.0, 1}}};
  CHECK(curve.at_K(-1.0) == 300.0);
  CHECK(curve.at_K(5.0) == 350.0);
  CHECK(curve.at_K(10.0) == 500.0);
  CHECK(curve.at_K(99.0) == 500.0);
}

TEST_CASE("follow: whatever the program, no corner runs backwards, outruns the kiln or is spare") {
  const std::vector<NaturalCooling::Point> points = {{C(800.0), Rate::from_K_per_h(320.0)},
                                                     {C(500.0), Rate::from_K_per_h(130.0)},
                                                     {C(300.0), Rate::from_K_per_h(160.0)},
                                                     {C(100.0), Rate::from_K_per_h(9.0)}};
  Kiln kiln{.name = "", .title = "", .natural_cooling = {points, C(20.0)}, .assumed = {}};
  std::mt19937_64 random{7};
  const auto between = [&](double low, double high) {
    return std::uniform_real_distribution<double>{low, high}(random);
  };
  constexpr double chord_slack_K = 0.1;  // two chord ends, each within 0.05 K of the fall
  for (int i = 0; i < 300; ++i) {
    Program program;
    if (i % 3 == 0) program.start = C(between(0.0, 900.0));
    for (int step = 0; step < 5; ++step) {
      const Rate rate = Rate::from_K_per_h(std::pow(10.0, between(-0.5, 3.0)));
      program.steps.push_back({C(between(0.0, 900.0)),
                               random() % 5 == 0 ? Pace{AsFastAsPossible{}} : Pace{rate},
                               minutes(random() % 2 == 0 ? 0.0 : between(0.0, 600.0)),
                               {},
                               ""});
    }
    for (const Late late : {Late::waits, Late::goes_on, Late::stops}) {
      const FollowedProgram run = follow(program, kiln, late, C(between(0.0, 900.0)));
      CAPTURE(write_program(program));
      const auto& corners = run.air.corners;
      CHECK(corners.size() < 1000);
      for (std::size_t k = 1; k < corners.size(); ++k) {
        const double dt_s = corners[k].time_s - corners[k - 1].time_s;
        REQUIRE(dt_s >= 0.0);
        const Temperature fallen =
            kiln.natural_cooling.after(Temperature::from_K(corners[k - 1].T_K), seconds(dt_s));
        CHECK(corners[k].T_K >= fallen.in_K() - chord_slack_K);
        CHECK(corners[k].T_K - corners[k - 1].T_K <=
              kiln.fastest_heating.in_K_per_s() * dt_s + 1e-6);
      }
    }
  }
}

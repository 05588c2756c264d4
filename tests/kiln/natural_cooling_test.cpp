#include "kiln/natural_cooling.h"

#include <cmath>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

Temperature C(double t_C) {
  return Temperature::from_C(t_C);
}

/// One time constant: a single point, the rest is Newton cooling.
NaturalCooling newton(double tau_h, double room_C = 20.0) {
  return {{{C(480.0), Rate::from_K_per_h((480.0 - room_C) / tau_h)}}, C(room_C)};
}

NaturalCooling table() {
  return {{{C(800.0), Rate::from_K_per_h(320.0)},
           {C(500.0), Rate::from_K_per_h(130.0)},
           {C(300.0), Rate::from_K_per_h(130.0)},
           {C(100.0), Rate::from_K_per_h(9.0)}},
          C(20.0)};
}

/// Fall by many small explicit steps of the midpoint rule: independent of the closed forms.
double stepped_time_h(const NaturalCooling& kiln, double from_C, double to_C) {
  constexpr int steps = 200000;
  const double dT = (from_C - to_C) / steps;
  double time_h = 0.0;
  for (int i = 0; i < steps; ++i) {
    time_h += dT / kiln.rate_at(C(from_C - (i + 0.5) * dT)).in_K_per_h();
  }
  return time_h;
}

constexpr double rounding = 1e-12;

}  // namespace

// Arithmetic of Newton cooling, rate = (T - room)/tau.
TEST_CASE("natural cooling: a time constant of 4 h falls at 115 C/h at 480 C") {
  CHECK(newton(4.0).rate_at(C(480.0)).in_K_per_h() == doctest::Approx(115.0).epsilon(rounding));
  CHECK(std::abs(newton(1.5).rate_at(C(480.0)).in_K_per_h() - 307.0) < 0.5);
  CHECK(newton(10.0).rate_at(C(480.0)).in_K_per_h() == doctest::Approx(46.0).epsilon(rounding));
  CHECK(newton(4.0).rate_at(C(100.0)).in_K_per_h() == doctest::Approx(20.0).epsilon(rounding));
  CHECK(newton(4.0).rate_at(C(60.0)).in_K_per_h() == doctest::Approx(10.0).epsilon(rounding));
}

// Exact exponential: 4 h ln(350/20) = 11.449 h; 20 + 460 exp(-0.75/4) = 401.4 C.
TEST_CASE("natural cooling: one time constant is the exact exponential") {
  const NaturalCooling kiln = newton(4.0);
  CHECK(in_h(kiln.time_to_fall(C(370.0), C(40.0))) ==
        doctest::Approx(4.0 * std::log(350.0 / 20.0)).epsilon(rounding));
  CHECK(std::abs(in_h(kiln.time_to_fall(C(370.0), C(40.0))) - 11.4) < 0.05);
  CHECK(kiln.after(C(480.0), minutes(45.0)).in_C() ==
        doctest::Approx(20.0 + 460.0 * std::exp(-0.75 / 4.0)).epsilon(rounding));
  CHECK(std::abs(kiln.after(C(480.0), minutes(45.0)).in_C() - 401.0) < 0.5);
  CHECK(kiln.after(C(900.0), hours(10.0)).in_C() ==
        doctest::Approx(20.0 + 880.0 * std::exp(-2.5)).epsilon(rounding));
}

TEST_CASE("natural cooling: between points the rate is a straight line, beyond them Newton's") {
  const NaturalCooling kiln = table();
  CHECK(kiln.rate_at(C(650.0)).in_K_per_h() == doctest::Approx(225.0).epsilon(rounding));
  CHECK(kiln.rate_at(C(400.0)).in_K_per_h() == doctest::Approx(130.0).epsilon(rounding));
  CHECK(kiln.rate_at(C(60.0)).in_K_per_h() == doctest::Approx(4.5).epsilon(rounding));
  CHECK(kiln.rate_at(C(1190.0)).in_K_per_h() == doctest::Approx(480.0).epsilon(rounding));
  CHECK(kiln.rate_at(C(20.0)).in_K_per_h() == 0.0);
  CHECK(kiln.rate_at(C(5.0)).in_K_per_h() == 0.0);
}

TEST_CASE("natural cooling: time to fall agrees with summing small steps") {
  constexpr double step_error = 1e-6;  // midpoint rule, 200 000 steps
  for (const double to_C : {850.0, 700.0, 500.0, 350.0, 200.0, 60.0, 25.0}) {
    CAPTURE(to_C);
    CHECK(in_h(table().time_to_fall(C(900.0), C(to_C))) ==
          doctest::Approx(stepped_time_h(table(), 900.0, to_C)).epsilon(step_error));
  }
}

TEST_CASE("natural cooling: after is the inverse of the time to fall") {
  for (const double to_C : {899.0, 800.0, 650.0, 500.0, 400.0, 301.0, 100.0, 99.0, 30.0, 20.5}) {
    CAPTURE(to_C);
    const Duration time = table().time_to_fall(C(900.0), C(to_C));
    CHECK(table().after(C(900.0), time).in_C() == doctest::Approx(to_C).epsilon(1e-9));
  }
}

TEST_CASE("natural cooling: the room is never reached and nothing rises") {
  CHECK(std::isinf(in_s(table().time_to_fall(C(500.0), C(20.0)))));
  CHECK(in_s(table().time_to_fall(C(500.0), C(600.0))) == 0.0);
  CHECK(table().after(C(500.0), hours(1e6)).in_C() == doctest::Approx(20.0));
  CHECK(table().after(C(10.0), hours(5.0)) == C(10.0));
}

TEST_CASE("natural cooling: another room scales the rates with the difference from it") {
  const NaturalCooling warm = newton(4.0).in_room(C(40.0));
  CHECK(warm.rate_at(C(480.0)).in_K_per_h() == doctest::Approx(110.0).epsilon(rounding));
  CHECK(warm.rate_at(C(40.0)).in_K_per_h() == 0.0);
  CHECK(table().in_room(C(110.0)).points().size() == 3);
}

TEST_CASE("natural cooling: a straight line down to where it says stays within what it says") {
  constexpr double within_K = 0.04;
  constexpr double slack_K = 0.01;  // the chord is sized by a bound on its first half
  for (double from_C = 900.0; from_C > 20.2;) {
    const double to_C =
        table().straight_down_to(C(from_C), TemperatureDifference::from_K(within_K)).in_C();
    REQUIRE(to_C < from_C);
    if (to_C <= 20.0) break;
    const double time_s = in_s(table().time_to_fall(C(from_C), C(to_C)));
    for (const double share : {0.25, 0.5, 0.75}) {
      const double curve_C = table().after(C(from_C), seconds(share * time_s)).in_C();
      const double chord_C = from_C + share * (to_C - from_C);
      CAPTURE(from_C);
      CHECK(std::abs(curve_C - chord_C) <= within_K + slack_K);
    }
    from_C = to_C;
  }
}

TEST_CASE("natural cooling: where a rate is too fast for the kiln") {
  // 20 C/h with a time constant of 4 h: at 100 C.
  CHECK(newton(4.0).slower_than(Rate::from_K_per_h(20.0), C(480.0)).in_C() ==
        doctest::Approx(100.0).epsilon(1e-9));
  CHECK(newton(4.0).slower_than(Rate::from_K_per_h(20.0), C(90.0)) == C(90.0));
  CHECK(table().slower_than(Rate::from_K_per_h(225.0), C(800.0)).in_C() ==
        doctest::Approx(650.0).epsilon(1e-9));
  CHECK(table().slower_than(Rate::from_K_per_h(130.0), C(450.0)).in_C() ==
        doctest::Approx(300.0).epsilon(1e-9));
}

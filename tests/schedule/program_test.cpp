#include "schedule/program.h"

#include <doctest/doctest.h>

using namespace thickset;

namespace {

constexpr double rounding = 1e-9;  // of a few double operations on these numbers

Temperature C(double t_C) {
  return Temperature::from_C(t_C);
}

}  // namespace

TEST_CASE("ramp time: a difference over a rate, whichever way it goes") {
  CHECK(in_h(*ramp_time(Rate::from_K_per_h(5.0), C(500.0), C(450.0))) ==
        doctest::Approx(10.0).epsilon(rounding));
  CHECK(in_h(*ramp_time(Rate::from_K_per_h(5.0), C(450.0), C(500.0))) ==
        doctest::Approx(10.0).epsilon(rounding));
}

TEST_CASE("ramp time: a duration is itself and the kiln's own pace has none") {
  CHECK(in_min(*ramp_time(minutes(90.0), C(500.0), C(20.0))) == 90.0);
  CHECK_FALSE(ramp_time(AsFastAsPossible{}, C(500.0), C(20.0)).has_value());
}

TEST_CASE("legs: a rate step with a hold is a ramp and a hold") {
  Program program;
  program.start = C(500.0);
  program.steps = {{C(450.0), Rate::from_K_per_h(5.0), minutes(30.0), {}, ""}};
  const auto pieces = legs(program, std::nullopt);
  REQUIRE(pieces.size() == 2);
  CHECK_FALSE(pieces[0].is_hold);
  CHECK(*pieces[0].from == C(500.0));
  CHECK(pieces[1].is_hold);
  CHECK(std::get<Duration>(pieces[1].pace) == minutes(30.0));
  CHECK(pieces[1].step == 0);
}

TEST_CASE("legs: an equal target is a hold by time, and no ramp by rate") {
  Program program;
  program.steps = {{C(500.0), minutes(60.0), {}, {}, ""},
                   {C(500.0), minutes(90.0), {}, {}, ""},
                   {C(500.0), Rate::from_K_per_h(5.0), {}, {}, ""}};
  const auto unknown = legs(program, std::nullopt);
  REQUIRE(unknown.size() == 2);
  CHECK_FALSE(unknown[0].is_hold);
  CHECK_FALSE(unknown[0].from.has_value());
  CHECK(unknown[1].is_hold);
  const auto known = legs(program, C(500.0));
  REQUIRE(known.size() == 2);
  CHECK(known[0].is_hold);
}

#include "planning/way_on.h"

#include "planning/way_in_doubt.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/error.h"
#include "checking/example_casting.h"
#include "checking/firing_by_program.h"
#include "message_of.h"
#include "schedule/notation.h"
#include "schedule/read_controller.h"

using namespace thickset;

namespace {

Temperature C(double value) {
  return Temperature::from_C(value);
}

Step ramp(double to_C, double rate_K_per_h, double hold_min = 0.0) {
  return {.target = C(to_C), .pace = Rate::from_K_per_h(rate_K_per_h), .hold = minutes(hold_min)};
}

struct Kilnside {
  Casting casting = example::slab_of_mm(50.0);
  Kiln kiln = example::kiln();
  Controller controller =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));
  Program plan = read_program(example::data_path("programs/slab-50-gentle.csv"));
  Firing firing{};
  Limits limits{};

  TailOfProgram tail() const { return tail_of(plan, casting, kiln, firing, {}); }
  FiringSoFar at(const KnownMoment& known) const {
    return so_far(plan, known, casting, kiln, controller.late_on_cooling, firing, Degrees::celsius);
  }
  WaysRequest request(const FiringSoFar& past) const {
    WaysRequest request{.casting = casting,
                        .kiln = kiln,
                        .controller = controller,
                        .firing = firing,
                        .limits = limits,
                        .bulks = {all_bulks.begin(), all_bulks.end()}};
    request.if_held_here = if_held_here(past, request);
    return request;
  }
  /// Where the program has the kiln so long after its hold.
  Temperature by_plan(Duration since_hold) const {
    const AirCurve air =
        follow(
            with_fall_to_room(plan, casting, firing), kiln, controller.late_on_cooling, firing.from)
            .air;
    const std::optional<AnnealHold> hold = find_hold(air, casting.glass);
    return Temperature::from_K(air.at_K(hold->end_s + in_s(since_hold)));
  }
};

}  // namespace

TEST_CASE("rest of a program: its hold, and what comes after from any temperature") {
  const Kilnside here;
  const TailOfProgram tail = here.tail();
  CHECK(tail.hold_at == C(513.0));
  CHECK(in_min(tail.hold) == doctest::Approx(180.0));
  REQUIRE(tail.after.size() == 3);

  const auto level = [](double min) { return [=](Temperature) { return minutes(min); }; };
  const Program above = tail.rest(C(600.0), level(0.0));
  REQUIRE(above.steps.size() == 4);
  CHECK(in_min(above.steps.front().hold) == doctest::Approx(180.0));
  const Program in_hold = tail.rest(C(513.0), level(50.0));
  REQUIRE(in_hold.steps.size() == 4);
  CHECK(in_min(in_hold.steps.front().hold) == doctest::Approx(130.0));
  const Program after_hold = tail.rest(C(513.0), level(200.0));
  CHECK(after_hold.steps.size() == 3);
  const Program a_little_below = tail.rest(C(510.0), level(50.0));  // within the sensor's tolerance
  REQUIRE(a_little_below.steps.size() == 4);
  CHECK(a_little_below.steps.front().target == C(513.0));
  CHECK(in_min(a_little_below.steps.front().hold) == doctest::Approx(130.0));
  CHECK(tail.rest(C(505.0), level(50.0)).steps.size() == 3);
  const Program in_second = tail.rest(C(320.0), level(0.0));
  REQUIRE(in_second.steps.size() == 2);
  CHECK(in_second.steps.front().target == C(300.0));
}

TEST_CASE("rest of a program by time: the ramp under way is cut in proportion, rests are kept") {
  Kilnside here;
  here.plan = Program{.start = C(513.0),
                      .steps = {{.target = C(513.0), .pace = minutes(100.0)},
                                {.target = C(513.0), .pace = minutes(200.0)},
                                {.target = C(413.0), .pace = minutes(1000.0)},
                                {.target = C(413.0), .pace = minutes(90.0)},
                                {.target = C(35.0), .pace = minutes(3780.0)}},
                      .notation = Notation::time};
  const TailOfProgram tail = here.tail();
  CHECK(in_min(tail.hold) == doctest::Approx(300.0));  // keyed in two parts
  REQUIRE(tail.after.size() == 2);
  CHECK(in_min(tail.after.front().hold) == doctest::Approx(90.0));
  const Program rest = tail.rest(C(463.0), [](Temperature) { return Duration{0.0}; });
  REQUIRE(rest.steps.size() == 2);
  CHECK(in_min(std::get<Duration>(rest.steps.front().pace)) == doctest::Approx(500.0));
  const Program resting =
      tail.rest(C(413.0), [](Temperature) { return minutes(90.0); });  // 60 of them on the ramp
  REQUIRE(resting.steps.size() == 2);
  CHECK(in_min(resting.steps.front().hold) == doctest::Approx(60.0));
}

TEST_CASE("rest of a program: one without a hold, and one without a fall, are refused") {
  Kilnside here;
  here.plan = Program{.start = {}, .steps = {ramp(35.0, 50.0)}};
  CHECK(message_of([&] { here.tail(); }).find("no hold that could anneal this glass, ") !=
        std::string::npos);
  here.plan = Program{.start = {}, .steps = {ramp(513.0, 100.0, 60.0)}};
  CHECK(message_of([&] { here.tail(); }).find("ends with its hold") != std::string::npos);
}

TEST_CASE("rest of a program: a slow ramp into a rest is no part of it") {
  Kilnside here;
  here.plan =
      Program{.start = C(513.0),
              .steps = {ramp(513.0, 100.0, 180.0), ramp(420.0, 2.0, 240.0), ramp(35.0, 28.0)}};
  const TailOfProgram tail = here.tail();
  REQUIRE(tail.after.size() == 2);
  const auto rest_after = [&](double since_h) {
    const Duration since = hours(since_h);
    const FiringSoFar past = here.at({.since_hold = since, .display = here.by_plan(since)});
    return tail.rest(past.kiln, [&](Temperature at) { return level_for(past, at); });
  };
  // 46.5 h of ramp, then 4 h of rest.
  const Program on_the_ramp = rest_after(46.0);
  REQUIRE(on_the_ramp.steps.size() == 2);
  CHECK(std::get<Rate>(on_the_ramp.steps.front().pace).in_K_per_h() == doctest::Approx(2.0));
  CHECK(in_min(on_the_ramp.steps.front().hold) == doctest::Approx(240.0));
  const Program resting = rest_after(47.5);
  REQUIRE(resting.steps.size() == 2);
  CHECK(in_min(resting.steps.front().hold) == doctest::Approx(180.0).epsilon(0.02));
}

TEST_CASE("rest of a program: before its hold, everything that is left") {
  Kilnside here;
  here.firing.from = C(20.0);
  here.plan = Program{
      .start = {},
      .steps = {
          ramp(680.0, 100.0, 60.0), ramp(513.0, 120.0, 180.0), ramp(360.0, 7.0), ramp(35.0, 28.0)}};
  const TailOfProgram tail = here.tail();
  REQUIRE(tail.before.size() == 2);
  const auto rest_at = [&](double since_start_h, double display_C) {
    const FiringSoFar past =
        here.at({.since_start = hours(since_start_h), .display = C(display_C)});
    return tail.rest_before_hold(past);
  };
  const std::optional<Program> heating = rest_at(3.0, 320.0);
  REQUIRE(heating.has_value());
  REQUIRE(heating->steps.size() == 4);
  CHECK(heating->steps.front().target == C(680.0));
  CHECK(in_min(heating->steps.front().hold) == doctest::Approx(60.0));
  const std::optional<Program> melting = rest_at(7.1, 680.0);
  REQUIRE(melting.has_value());
  REQUIRE(melting->steps.size() == 4);
  CHECK(in_min(melting->steps.front().hold) == doctest::Approx(30.0).epsilon(0.2));
  const std::optional<Program> falling = rest_at(8.1, 620.0);
  REQUIRE(falling.has_value());
  REQUIRE(falling->steps.size() == 3);
  CHECK(falling->steps.front().target == C(513.0));
  CHECK(in_min(falling->steps.front().hold) == doctest::Approx(180.0));
  CHECK_FALSE(rest_at(9.5, 513.0).has_value());
  CHECK_FALSE(rest_at(20.0, here.by_plan(hours(7.0)).in_C()).has_value());
  // A cut on the way up: up again.
  const std::optional<Program> cut = rest_at(5.0, 380.0);
  REQUIRE(cut.has_value());
  CHECK(cut->steps.front().target == C(680.0));
  // And that is the only way on, however cold the kiln is.
  const FiringSoFar past = here.at({.since_start = hours(3.0), .display = C(320.0)});
  const std::vector<WayOn> ways = ways_on(tail, past, here.request(past));
  REQUIRE(ways.size() == 1);
  CHECK(ways.front().kind == WayOn::Kind::go_on);
  CHECK(ways.front().before_hold);
  CHECK(ways.front().passes());  // tension while it is in pieces does not count
  CHECK(in_min(ways.front().fitted.program.steps.front().hold) == doctest::Approx(60.0));
}

TEST_CASE("rest of a program by its own clock: the leg under way, and what comes after") {
  Kilnside here;
  here.firing.from = C(20.0);
  here.plan = Program{
      .start = {},
      .steps = {
          ramp(150.0, 20.0, 60.0), ramp(513.0, 30.0, 180.0), ramp(360.0, 7.0), ramp(35.0, 28.0)}};
  const auto at = [&](double since_start_h, double display_C) {
    return here.at({.since_start = hours(since_start_h), .display = C(display_C)});
  };
  // 6.5 h up, 1 h there, 12.1 h up, 3 h of hold.
  const FiringSoFar up = at(6.2, 142.0);
  REQUIRE(up.on_program.has_value());
  CHECK(up.before_hold);
  CHECK(std::get<Rate>(up.on_program->steps.front().pace).in_K_per_h() == doctest::Approx(20.0));
  CHECK(in_min(up.on_program->steps.front().hold) == doctest::Approx(60.0));
  const FiringSoFar resting = at(7.0, 152.0);  // and a little hotter than the program
  REQUIRE(resting.on_program.has_value());
  CHECK(in_min(resting.on_program->steps.front().hold) == doctest::Approx(30.0));
  CHECK(resting.on_program->steps.size() == 4);
  // A degree below its hold, one minute before it and one after: never past it.
  for (const double before_min : {4.0, 1.0, -1.0}) {
    CAPTURE(before_min);
    const FiringSoFar arriving = at(19.6 - before_min / 60.0, 511.0);
    REQUIRE(arriving.on_program.has_value());
    CHECK(in_min(arriving.on_program->steps.front().hold) == doctest::Approx(180.0).epsilon(0.02));
    CHECK(arriving.before_hold == (before_min > 0.0));
  }
  const FiringSoFar over = at(22.7, 512.0);
  REQUIRE(over.on_program.has_value());
  CHECK(over.on_program->steps.size() == 2);
  CHECK(over.hold_in_full);
  // An outage on the way up: the ramp goes on from there.
  const FiringSoFar cut = at(14.0, 250.0);
  REQUIRE(cut.on_program.has_value());
  CHECK(cut.on_program->steps.front().target == C(513.0));
  CHECK(std::get<Rate>(cut.on_program->steps.front().pace).in_K_per_h() == doctest::Approx(30.0));
}

TEST_CASE("now: a hold that was cut short does not pass for one; near its end it does") {
  const Kilnside here;
  // Two minutes after the kiln's arrival: the glass is 50 K hotter.
  const FiringSoFar cut = here.at({.since_start = minutes(85.0), .display = C(503.0)});
  CHECK_FALSE(cut.hold_in_full);
  const std::vector<WayOn> ways = ways_on(here.tail(), cut, here.request(cut));
  CHECK_FALSE(ways.front().relaxes);
  CHECK(advised(ways).kind != WayOn::Kind::go_on);
  // Six minutes before its end, a display 2 K off steps to the set point: that spoils nothing.
  for (const double display_C : {511.0, 513.0, 515.0}) {
    CAPTURE(display_C);
    const FiringSoFar last = here.at({.since_start = minutes(254.0), .display = C(display_C)});
    const std::vector<WayOn> at_end = ways_on(here.tail(), last, here.request(last));
    CHECK(at_end.front().passes());
    REQUIRE(at_end.front().hold.has_value());
    CHECK(in_min(*at_end.front().hold) == doctest::Approx(6.0).epsilon(0.1));
  }
}

TEST_CASE("so far: hotter than a hold of the program by some kelvin is the program all the same") {
  const Kilnside here;
  const FiringSoFar hotter = here.at({.since_start = minutes(258.0), .display = C(520.0)});
  REQUIRE(hotter.on_program.has_value());
  CHECK(hotter.taken.front().find("reads 520 °C") != std::string::npos);
  // In a fall it fell more slowly, by up to four times.
  const FiringSoFar slower = here.at({.since_hold = hours(9.0), .display = C(470.0)});
  CHECK(slower.taken.front().find("times as slowly") != std::string::npos);
  REQUIRE(slower.on_program.has_value());
  CHECK(slower.on_program->steps.front().target == C(360.0));
  CHECK(message_of([&] {
          here.at({.since_hold = hours(20.0), .display = C(505.0)});
        }).find("times as late") != std::string::npos);
}

TEST_CASE("so far: a kiln quicker than its file is no outage that began before the fall") {
  Kilnside here;
  here.firing.from = C(20.0);
  here.plan =
      Program{.start = {},
              .steps = {ramp(800.0, 150.0, 60.0),
                        {.target = C(513.0), .pace = AsFastAsPossible{}, .hold = hours(3.0)},
                        ramp(360.0, 7.0),
                        ramp(35.0, 28.0)}};
  // 5.2 h up and an hour there; then it falls by itself.
  const Duration since = hours(5.2 + 1.0) + minutes(30.0);
  const FiringSoFar as_planned = here.at({.since_start = since, .display = C(664.0)});
  REQUIRE(as_planned.on_program.has_value());
  const FiringSoFar quicker = here.at({.since_start = since, .display = C(640.0)});
  REQUIRE(quicker.on_program.has_value());
  CHECK(quicker.on_program->steps.front().target == C(513.0));  // not up to 800 C again
  CHECK(in_min(quicker.on_program->steps.front().hold) == doctest::Approx(180.0));
  CHECK(quicker.taken.front().find("times as fast as its kiln file says") != std::string::npos);
  // Half the time is too quick; and who says that the elements were off is believed.
  CHECK(message_of([&] {
          here.at({.since_start = since, .display = C(400.0)});
        }).find("by itself this kiln takes") != std::string::npos);
  const FiringSoFar told =
      here.at({.since_start = since, .off_for = minutes(40.0), .display = C(640.0)});
  REQUIRE(told.on_program.has_value());
  CHECK(told.on_program->steps.front().target == C(800.0));
}

TEST_CASE("now: around the end of a hold a few kelvin too many change nothing") {
  const Kilnside here;
  for (const double since_min : {-1.0, 0.0, 2.0, 13.0}) {
    CAPTURE(since_min);
    const FiringSoFar hotter = here.at({.since_hold = minutes(since_min), .display = C(517.0)});
    REQUIRE(hotter.on_program.has_value());
    CHECK(hotter.on_program->steps.back().target == C(35.0));
    CHECK(hotter.hold_in_full == (since_min >= 0.0));
  }
  // Far above it in the hold: there first, and that is what the hold is for.
  const FiringSoFar far = here.at({.since_start = hours(2.0), .display = C(530.0)});
  const std::vector<WayOn> ways = ways_on(here.tail(), far, here.request(far));
  REQUIRE(ways.front().hold.has_value());
  CHECK(in_min(*ways.front().hold) == doctest::Approx(140.0).epsilon(0.02));
}

TEST_CASE("so far: a log that begins warm is not a firing's beginning") {
  const Kilnside here;
  const auto log_from = [&](double start_C) {
    Polyline line;
    line.corners = {{0.0, C(start_C).in_K()}, {20000.0, C(200.0).in_K()}};
    return so_far(course_of(line, here.casting, here.kiln, here.firing), here.casting.glass);
  };
  const FiringSoFar warm = log_from(300.0);
  CHECK_FALSE(warm.from_its_start);
  REQUIRE(warm.taken.size() == 1);
  CHECK(warm.taken.front().find("before the log began is not known") != std::string::npos);
  CHECK_FALSE(here.tail().rest_before_hold(warm).has_value());
  CHECK(log_from(20.0).from_its_start);
}

TEST_CASE("now: a kiln a little under its hold goes on holding; a hold too short is not passed") {
  const Kilnside here;
  const FiringSoFar past = here.at({.since_start = hours(3.0), .display = C(510.0)});
  const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
  REQUIRE(ways.front().hold.has_value());
  CHECK(in_min(*ways.front().hold) > 60.0);
  Kilnside short_hold;
  short_hold.plan.steps.front().hold = minutes(25.0);
  const FiringSoFar in_it = short_hold.at({.since_hold = minutes(-10.0), .display = C(513.0)});
  const std::vector<WayOn> of_short = ways_on(short_hold.tail(), in_it, short_hold.request(in_it));
  CHECK_FALSE(of_short.front().relaxes);
}

TEST_CASE("now: where nothing went wrong, the way on is the rest of the tail as it was") {
  const Kilnside here;
  for (const double since_h : {1.0, 9.0, 21.0, 24.0, 27.0, 32.0}) {
    CAPTURE(since_h);
    const Temperature display = here.by_plan(hours(since_h));
    const FiringSoFar past = here.at({.since_hold = hours(since_h), .display = display});
    const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
    const WayOn& way = advised(ways);
    REQUIRE(way.kind == WayOn::Kind::go_on);
    CHECK(way.passes());
    // The same targets and rates as in the plan, from its end backwards.
    const std::vector<Step>& keyed = way.fitted.program.steps;
    REQUIRE(!keyed.empty());
    REQUIRE(keyed.size() <= 3);
    for (std::size_t i = 0; i < keyed.size(); ++i) {
      const Step& planned = here.plan.steps[here.plan.steps.size() - keyed.size() + i];
      CHECK(keyed[i].target == planned.target);
      CHECK(std::get<Rate>(keyed[i].pace).in_K_per_h() ==
            doctest::Approx(std::get<Rate>(planned.pace).in_K_per_h()));
    }
    // And what it leaves is what the whole plan leaves.
    const Measured whole =
        measure(here.casting, here.kiln, here.controller.late_on_cooling, here.plan, here.firing);
    CHECK(way.measured.permanent.retardation.in_nm_per_cm() ==
          doctest::Approx(whole.permanent.retardation.in_nm_per_cm()).epsilon(0.005));
  }
}

TEST_CASE("now: in the hold, the rest of the hold and the tail after it") {
  const Kilnside here;
  const FiringSoFar past = here.at({.since_start = hours(3.0), .display = C(513.0)});
  const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
  REQUIRE(ways.size() == 1);
  CHECK(ways.front().kind == WayOn::Kind::go_on);
  REQUIRE(ways.front().hold.has_value());
  CHECK(in_min(*ways.front().hold) < 180.0);
  CHECK(in_min(*ways.front().hold) > 30.0);
  CHECK(ways.front().fitted.program.steps.size() == 4);
}

TEST_CASE("now: a cut in the setting range: back to the hold, at a rate that adds little") {
  const Kilnside here;
  const FiringSoFar past =
      here.at({.since_hold = minutes(45.0), .off_for = minutes(45.0), .display = C(401.0)});
  const WaysRequest request = here.request(past);
  const std::vector<WayOn> ways = ways_on(here.tail(), past, request);
  const WayOn& way = advised(ways);
  REQUIRE(way.kind == WayOn::Kind::back_to_hold);
  CHECK(way.passes());
  CHECK(ways.front().leaves_nm_per_cm > 2.0 * here.limits.grade.in_nm_per_cm());
  REQUIRE(way.heating.has_value());
  CHECK(in_min(*way.hold) >= 180.0);
  // Half as fast again pulls more than is allowed.
  Rate faster = Rate::from_K_per_s(1.5 * way.heating->in_K_per_s());
  const WayOn hurried =
      judge(WayOn::Kind::back_to_hold, here.tail().whole(faster, *way.hold), past, request);
  CHECK_FALSE(hurried.keeps_tension);
  // What it came to, without heating it again, is certain.
  const double certain = certain_by_now(ways.front(), past, request).in_nm_per_cm();
  CHECK(certain > 20.0);
  CHECK(certain <= ways.front().leaves_nm_per_cm);
}

TEST_CASE("now: a short cut: wait, then go on") {
  const Kilnside here;
  const FiringSoFar past =
      here.at({.since_hold = minutes(20.0), .off_for = minutes(20.0), .display = C(470.0)});
  const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
  const WayOn& way = advised(ways);
  CHECK(way.kind == WayOn::Kind::hold_here);
  CHECK(way.passes());
  CHECK_FALSE(ways.front().passes());
}

TEST_CASE("now: a cut far below: go on") {
  const Kilnside here;
  const Duration since = hours(27.0);
  const Temperature before = here.by_plan(since);
  const Temperature display = before - TemperatureDifference::from_K(40.0);
  const FiringSoFar past = here.at({.since_hold = since + minutes(30.0), .display = display});
  const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
  CHECK(advised(ways).kind == WayOn::Kind::go_on);
}

TEST_CASE("now: too late where what is set is over and no heating is allowed") {
  Kilnside here;
  here.casting = example::slab_of_mm(120.0);
  here.limits.tension = Stress::from_MPa(0.5);
  const FiringSoFar past =
      here.at({.since_hold = hours(3.0), .off_for = hours(3.0), .display = C(300.0)});
  const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
  const WayOn& way = advised(ways);
  CHECK(way.kind == WayOn::Kind::fall_closed);
  CHECK_FALSE(way.passes());
  CHECK(way.leaves_nm_per_cm > here.limits.grade.in_nm_per_cm());
}

TEST_CASE(
    "now: when the slowest glass is below the setting range nobody is sent back to the hold") {
  const Kilnside here;
  for (const double display_C : {250.0, 60.0}) {
    CAPTURE(display_C);
    const FiringSoFar past =
        here.at({.since_hold = hours(12.0), .off_for = hours(11.9), .display = C(display_C)});
    const std::vector<WayOn> ways = ways_on(here.tail(), past, here.request(past));
    // Nothing is keyed anew where that leaves and pulls no less.
    CHECK(advised(ways).kind == WayOn::Kind::go_on);
    CHECK(ways.back().kind == WayOn::Kind::fall_closed);
    for (const WayOn& way : ways) CHECK(way.kind != WayOn::Kind::back_to_hold);
  }
}

TEST_CASE("so far: a hold whose readings go up and down is level all the while") {
  FiringSoFar past{.air = {}, .start = C(800.0), .kiln = C(515.0)};
  past.air.corners = {{0.0, C(800.0).in_K(), 0},
                      {3600.0, C(513.0).in_K(), 0},
                      {5400.0, C(512.0).in_K(), 0},
                      {7200.0, C(515.0).in_K(), 0}};
  CHECK(in_min(level_for(past, C(513.0))) == doctest::Approx(61.0).epsilon(0.05));
  // An on-off controller, and one reading far off.
  FiringSoFar swinging{.air = {}, .start = C(800.0), .kiln = C(516.0)};
  swinging.air.corners = {{0.0, C(800.0).in_K(), 0}, {3600.0, C(513.0).in_K(), 0}};
  for (double minute = 6.0; minute <= 120.0; minute += 6.0) {
    const double swing_K = std::lround(minute / 6.0) % 2 == 0 ? 3.0 : -3.0;
    swinging.air.corners.push_back({3600.0 + 60.0 * minute, C(513.0 + swing_K).in_K(), 0});
  }
  swinging.air.corners[10].T_K += 25.0;
  CHECK(in_min(level_for(swinging, C(513.0))) == doctest::Approx(120.0).epsilon(0.02));
  CHECK(in_min(level_for(swinging, C(420.0))) == 0.0);
  // It came into the hold after a rest elsewhere, for longer than a swing.
  CHECK(in_min(level_for(swinging, C(600.0))) == 0.0);
}

TEST_CASE("now: the elements may go off when the rest by the kiln's own fall keeps the limits") {
  const Kilnside here;
  const FiringSoFar past = here.at({.since_hold = hours(9.0), .display = here.by_plan(hours(9.0))});
  const WaysRequest request = here.request(past);
  const std::vector<WayOn> ways = ways_on(here.tail(), past, request);
  const InDoubt doubt{here.casting, past, here.kiln};
  const std::optional<Duration> off = elements_off_after(advised(ways), past, request, doubt);
  REQUIRE(off.has_value());
  CHECK(in_h(*off) > 1.0);
  // The largest share of a limit in any case of the doubt, over what the way itself takes there.
  const std::vector<Judged> of_way = judged_in_doubt(advised(ways).course, past, request, doubt);
  const auto largest = [&](Duration after) {
    const KilnCourse course =
        with_elements_off(past, advised(ways).course, after, here.casting, here.kiln, here.firing);
    const std::vector<Judged> judged = judged_in_doubt(course, past, request, doubt);
    double share = 0.0;
    for (std::size_t i = 0; i < judged.size(); ++i) {
      const double grade = std::max(here.limits.grade.in_nm_per_cm(), of_way[i].leaves_nm_per_cm);
      const double tension_Pa = std::max(here.limits.tension.in_Pa(), of_way[i].pulls_Pa);
      share = std::max(share, judged[i].leaves_nm_per_cm / grade);
      share = std::max(share, judged[i].pulls_Pa / tension_Pa);
    }
    return share;
  };
  constexpr double no_worse_than_the_way = 1.001;  // what elements_off_after allows, and rounding
  CHECK(largest(*off) <= no_worse_than_the_way + 1e-4);
  CHECK(largest(*off - hours(1.0)) > 1.0);
}

TEST_CASE("now: what a cut pulls as the glass evens out is no excuse for a fall that comes later") {
  const Kilnside here;
  const FiringSoFar past =
      here.at({.since_hold = minutes(45.0), .off_for = minutes(45.0), .display = C(401.0)});
  const WaysRequest request = here.request(past);
  const std::vector<WayOn> ways = ways_on(here.tail(), past, request);
  const InDoubt doubt{here.casting, past, here.kiln};
  const std::optional<Duration> off = elements_off_after(advised(ways), past, request, doubt);
  REQUIRE(off.has_value());
  const double off_s = past.now_s() + in_s(*off);
  const KilnCourse fall =
      with_elements_off(past, advised(ways).course, *off, here.casting, here.kiln, here.firing);
  const std::vector<Judged> of_way = judged_in_doubt(advised(ways).course, past, request, doubt);
  const std::vector<Judged> judged = judged_in_doubt(fall, past, request, doubt);
  for (std::size_t i = 0; i < judged.size(); ++i) {
    CHECK(judged[i].pulls_from_Pa(past.now_s()) == doctest::Approx(judged[i].pulls_Pa));
    CHECK(judged[i].pulls_from_Pa(off_s) <=
          std::max(here.limits.tension.in_Pa(), 1.001 * of_way[i].pulls_from_Pa(off_s)) * 1.0001);
    // It pulls as it evens out, and hours later little.
    CHECK(of_way[i].pulls_from_Pa(off_s) < of_way[i].pulls_Pa);
  }
}

TEST_CASE("so far: an outage of unknown length is found from the kiln's own fall") {
  const Kilnside here;
  const Duration since = hours(3.0);
  const Temperature before = here.by_plan(since);
  const Temperature display = here.kiln.natural_cooling.after(before, minutes(40.0));
  const FiringSoFar found = here.at({.since_hold = since + minutes(40.0), .display = display});
  const FiringSoFar told =
      here.at({.since_hold = since + minutes(40.0), .off_for = minutes(40.0), .display = display});
  CHECK(found.air.at_K(found.now_s()) == doctest::Approx(display.in_K()));
  for (const double back_min : {5.0, 20.0, 35.0, 60.0}) {
    const double at_s = found.now_s() - 60.0 * back_min;
    CHECK(std::abs(found.air.at_K(at_s) - told.air.at_K(at_s)) <= 0.2);
  }
  REQUIRE(!found.taken.empty());
  CHECK(found.taken.front().find("off for the last 40 min") != std::string::npos);
}

TEST_CASE("so far: what cannot have been is refused, with what to check") {
  const Kilnside here;
  const auto refused = [&](const KnownMoment& known) {
    return message_of([&] { here.at(known); });
  };
  CHECK(refused({.since_hold = minutes(10.0), .display = C(30.0)}).find("colder than this kiln") !=
        std::string::npos);
  CHECK(refused({.since_hold = hours(9.0), .display = C(700.0)}).find("never was") !=
        std::string::npos);
  CHECK(refused({.since_hold = hours(9.0), .off_for = hours(1.0), .display = C(500.0)})
            .find("below the 500 °C of now") != std::string::npos);
  // 143 K in a minute, in no time, and longer than all of it.
  CHECK(refused({.since_hold = minutes(1.0), .off_for = minutes(1.0), .display = C(370.0)})
            .find("by itself this kiln takes") != std::string::npos);
  CHECK(refused({.since_hold = hours(1.0), .off_for = Duration{0.0}, .display = C(506.0)})
            .find("no time") != std::string::npos);
  CHECK(refused({.since_hold = hours(1.0), .off_for = hours(30.0), .display = C(500.0)})
            .find("longer than the firing") != std::string::npos);
  CHECK(refused({.since_hold = hours(9.0), .off_for = hours(1.0), .display = C(15.0)})
            .find("not above the room") != std::string::npos);
}

TEST_CASE(
    "so far: an outage within a hold passes its time and cuts it; after it, nothing is said") {
  const Kilnside here;
  const FiringSoFar level =
      here.at({.since_start = hours(3.0), .off_for = minutes(45.0), .display = C(513.0)});
  CHECK(in_h(seconds(level.now_s())) == doctest::Approx(3.0));
  REQUIRE(level.hold.has_value());
  CHECK(level.now_s() - level.hold->end_s == doctest::Approx(45.0 * 60.0));
  const FiringSoFar cut = here.at({.since_hold = hours(3.0), .display = C(200.0)});
  const auto says_cut = [](const FiringSoFar& past) {
    return std::any_of(past.taken.begin(), past.taken.end(), [](const std::string& taken) {
      return taken.find("the hold is taken to have been cut short") != std::string::npos;
    });
  };
  CHECK(says_cut(cut));
  CHECK_FALSE(says_cut(here.at({.since_hold = hours(3.0), .display = C(430.0)})));
}

TEST_CASE("so far: the display alone: the kiln fell by itself, and the sensor may be off") {
  const Kilnside here;
  const FiringSoFar past = so_far(C(80.0), here.kiln, here.firing, Degrees::celsius);
  CHECK(past.start == here.firing.from);
  CHECK(past.air.at_K(past.now_s()) == doctest::Approx(C(80.0).in_K()));
  // No firing from there has a hotter core: neither the program's own nor one that was cut.
  const auto core_K = [&](const FiringSoFar& firing) {
    const KilnCourse course = with_rest(
        firing, {}, here.casting, here.kiln, here.controller.late_on_cooling, here.firing);
    return measure_from(firing, course, here.casting, here.kiln, Bulk::elastic)
        .history.at(firing.now_s())
        .centre_K;
  };
  const FiringSoFar at_430 = so_far(C(430.0), here.kiln, here.firing, Degrees::celsius);
  CHECK(core_K(at_430) > core_K(here.at({.since_hold = hours(11.9), .display = C(430.0)})));
  CHECK(core_K(at_430) > core_K(here.at({.since_hold = minutes(45.0), .display = C(430.0)})));
}

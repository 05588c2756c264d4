#include "checking/slips.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "checking/another_reading.h"
#include "checking/casting_needs.h"
#include "checking/example_casting.h"
#include "schedule/notation.h"
#include "simulation/example_walls.h"

using namespace thickset;

namespace {

const std::string rates_C = "target_C,rate_C_per_h,hold_min\n";
const std::string rates_F = "target_F,rate_F_per_h,hold_min\n";
const std::string times_C = "target_C,minutes\n";

/// Where a program is checked: a 50 mm slab in a brick kiln, but for what a test changes.
struct Bench {
  Casting casting = example::slab_of_mm(50.0);
  Kiln kiln = example::kiln();
  Controller controller{};
  bool controller_named = false;
  Firing firing{};
  Limits limits{};

  CheckResult checked(const std::string& text) const {
    const Program program = parse_program(text, "keyed.csv");
    CheckResult result = check(
        casting, kiln, controller.late_on_cooling, program, firing, limits, false, program.degrees);
    std::vector<KeyingSlip> slips = keying_slips({.casting = casting,
                                                  .kiln = kiln,
                                                  .controller = controller,
                                                  .controller_named = controller_named,
                                                  .program = program,
                                                  .firing = firing,
                                                  .limits = limits,
                                                  .result = result});
    add_slips(std::move(slips), result);
    return result;
  }

  /// What is said of the keying, each on a line.
  std::string slips(const std::string& text) const {
    std::string said;
    for (const Finding& finding : checked(text).findings) {
      if (is_about_keying(finding)) said += (said.empty() ? "" : "\n") + finding.text;
    }
    return said;
  }

  std::string notes(const std::string& text, Finding::Kind kind) const {
    std::string said;
    for (const Finding& finding : checked(text).findings) {
      if (finding.kind == kind) said += (said.empty() ? "" : "\n") + finding.text;
    }
    return said;
  }
};

std::string by_rate(const std::string& first, const std::string& second = "360,7,0") {
  return rates_C + first + "\n" + second + "\n300,13,0\n35,28,0\n";
}

std::string by_time(const std::string& hold, const std::string& slow = "360,1311") {
  return times_C + "513,asap\n" + hold + "\n" + slow + "\n300,277\n35,570\n";
}

bool starts(const std::string& text, const std::string& with) {
  return text.substr(0, with.size()) == with;
}
bool ends(const std::string& text, const std::string& with) {
  return text.size() >= with.size() && text.substr(text.size() - with.size()) == with;
}

}  // namespace

TEST_CASE("slips: a program that keeps its limits has none, in either notation and degrees") {
  const Bench bench;
  CHECK(bench.slips(by_rate("513,asap,180")) == "");
  CHECK(bench.slips(by_time("513,180")) == "");
  CHECK(bench.slips(rates_F + "955,asap,180\n680,12,0\n572,23,0\n95,50,0\n") == "");
}

TEST_CASE("slips: a hold of 4 min where the glass needs an hour and more is asked about as 4 h") {
  const Bench bench;
  const std::string by_rates = bench.slips(by_rate("513,asap,4"));
  CHECK(starts(by_rates, "step 1 holds 4 min at 513 °C, but the glass is even only about 1 h "));
  CHECK(ends(by_rates, ": looks like 4 h meant? then key 240 min"));
  CHECK(ends(bench.slips(by_time("513,4")), ": looks like 4 h meant? then key 240 min"));
  // It stands in place of what the check says of a hold that is too short.
  CHECK(bench.notes(by_rate("513,asap,4"), Finding::Kind::hold_too_short) == "");
  // Short, but neither is 40 h near what a 50 mm slab needs, nor is 60 min absurd.
  CHECK(bench.slips(by_rate("513,asap,40")) == "");
  CHECK(bench.notes(by_rate("513,asap,40"), Finding::Kind::hold_too_short) != "");
  CHECK(bench.slips(by_rate("513,asap,60")) == "");
}

TEST_CASE("slips: 3.30 min may be 3.3 h or 3 h 30 min") {
  CHECK(ends(Bench{}.slips(by_rate("513,asap,3.30")),
             ": looks like 3.3 h or 3 h 30 min meant? then key 198 min or 210 min"));
}

TEST_CASE("slips: a hold of 240 h is asked about as 4 h, one of 40 h is not") {
  const Bench bench;
  CHECK(ends(bench.slips(by_rate("513,asap,14400")), ": looks like 4 h meant? then key 240 min"));
  CHECK(bench.slips(by_rate("513,asap,2400")) == "");
}

TEST_CASE("slips: 130 min may be 1:30, where the glass needs little less") {
  const Bench bench;
  const std::string said = bench.slips(by_rate("513,asap,130"));
  CHECK(starts(said, "step 1 holds 130 min (2 h 10 min) at 513 °C"));
  CHECK(ends(said, ": looks like 1:30 meant? then key 90 min"));
  for (const char* const round_or_long : {"120", "150", "400", "139"}) {
    CAPTURE(round_or_long);
    CHECK(bench.slips(by_rate(std::string{"513,asap,"} + round_or_long)) == "");
  }
}

TEST_CASE("slips: 20 min over 153 C in the setting range is asked about as 20 h") {
  const Bench bench;
  CHECK(bench.slips(by_time("513,180", "360,20")) ==
        "step 3 falls 153 °C in 20 min, 459 °C/h, where this casting bears about 9.2 °C/h: looks "
        "like "
        "20 h meant? then key 1200 min");
  // As short, but no reading of it is near what the casting bears.
  CHECK(bench.slips(by_time("513,180", "360,120")) == "");
}

TEST_CASE("slips: every time in hours makes one finding of the ramps and one of the hold") {
  const std::string said = Bench{}.slips(times_C + "513,asap\n513,3\n360,22\n300,5\n35,10\n");
  CHECK(std::count(said.begin(), said.end(), '\n') == 1);
  CHECK(starts(said, "step 2 holds 3 min"));
  CHECK(
      ends(said,
           "\nsteps 3, 4 and 5 (22 min, 5 min and 10 min): each is far faster than this casting "
           "bears: look like hours where minutes belong? then key 1320 min, 300 min and 600 min"));
}

TEST_CASE("slips: 20 h for the fall to the hold is asked about as 20 min, 2 h is not") {
  const Bench bench;
  const auto falling_in = [](const std::string& fall_min) {
    return times_C + "513," + fall_min + "\n513,180\n360,1311\n300,277\n35,570\n";
  };
  const std::string said = bench.slips(falling_in("1200"));
  CHECK(starts(said, "step 1 falls 287 °C in 1200 min, 14 °C/h, many times as long"));
  CHECK(ends(said, ": looks like 20 min meant? then key 20 min"));
  CHECK(bench.slips(falling_in("120")) == "");
}

TEST_CASE("slips: minutes in the rate column are asked about, with the rate they make") {
  CHECK(Bench{}.slips(by_rate("513,asap,180", "360,1320,0")) ==
        "step 2 falls 153 °C at 1320 °C/h, 7 min, where this casting bears about 9.2 °C/h: looks "
        "like "
        "1320 min meant? then key 6.9 °C/h");
}

TEST_CASE("slips: rates in the minutes column are asked about, with the minutes they make") {
  CHECK(Bench{}.slips(times_C + "513,asap\n513,180\n360,7\n300,13\n35,28\n") ==
        "steps 3, 4 and 5 (7 min, 13 min and 28 min): each is far faster than this casting bears: "
        "look like rates where minutes belong? then key 1311 min, 277 min and 568 min");
}

TEST_CASE("slips: steps that can all be read in one way are, though one alone would be another") {
  // 31 min alone would rather be 31 h; 18.04, 5.33 and 7.50 are hours and minutes.
  Bench bench;
  bench.casting = example::of_shape(Ball{Length::from_mm(90.0)}, "lead-crystal-24");
  const std::string held = times_C + "440,asap\n440,144\n415,35\n";
  CHECK(bench.slips(held + "329,5\n277,9\n35,31\n") ==
        "steps 4, 5 and 6 (5 min, 9 min and 31 min): each is far faster than this casting bears: "
        "look like rates where minutes belong? then key 1032 min, 347 min and 468 min");
  CHECK(bench.slips(held + "329,18.04\n277,5.33\n35,7.50\n") ==
        "steps 4, 5 and 6 (18.04 min, 5.33 min and 7.5 min): each is far faster than this casting "
        "bears: look like hours and minutes where minutes belong? then key 1084 min, 333 min and "
        "470 min");
}

TEST_CASE("slips: a reading keyed as suggested is no slip and keeps the limits") {
  const Bench bench;
  const std::string mended = by_rate("513,asap,180", "360,6.9,0");
  CHECK(bench.slips(mended) == "");
  CHECK(bench.checked(mended).verdict == Verdict::within);
}

TEST_CASE("slips: a program for thinner glass is over its limits, but no number is asked about") {
  Bench thick;
  thick.casting = example::slab_of_mm(100.0);
  CHECK(thick.slips(by_rate("513,asap,520")) == "");
  CHECK(thick.checked(by_rate("513,asap,520")).verdict == Verdict::over);
}

TEST_CASE("slips: a program for thicker glass is slow, but no number is asked about") {
  Bench thin;
  thin.casting = example::slab_of_mm(15.0);
  CHECK(thin.slips(by_rate("513,asap,180")) == "");
}

TEST_CASE("slips: numbers that make sense in the other degrees only are asked about, alone") {
  const Bench bench;
  CHECK(
      bench.slips(rates_C + "955,asap,180\n680,12,0\n95,50,0\n") ==
      "step 1: the annealing point is 513 °C; did you mean 955 °F, where the program says 955 °C? "
      "then key 513 °C, and so with the other steps");
  CHECK(
      bench.slips(rates_F + "513,asap,180\n360,7,0\n35,28,0\n") ==
      "step 1: the annealing point is 955 °F; did you mean 513 °C, where the program says 513 °F? "
      "then key 955 °F, and so with the other steps");
  // 500 F is 500 C by its number, but 955 F anneals as it is: what lacks is the hold.
  CHECK(bench.slips(rates_F + "955,asap,0\n500,12,0\n95,30,0\n").find("did you mean") ==
        std::string::npos);
}

TEST_CASE("slips: one target in the other degrees is asked about in place of a step that heats") {
  const Bench bench;
  const std::string program = by_rate("513,asap,180", "680,7,0");
  CHECK(bench.slips(program) ==
        "step 2 heats, from 513 °C to 680 °C: looks like 680 °F meant at step 2? then key 360 °C");
  CHECK(bench.notes(program, Finding::Kind::heats) == "");
  CHECK(bench.slips(rates_F + "955,asap,180\n430,12,0\n680,12,0\n95,50,0\n") ==
        "step 3 heats, from 430 °F to 680 °F: looks like 430 °C meant at step 2? then key 806 °F");
  // Out of line in both: it only heats.
  const std::string higher = by_rate("513,asap,180", "530,7,0");
  CHECK(bench.slips(higher) == "");
  CHECK(bench.notes(higher, Finding::Kind::heats) != "");
}

TEST_CASE("slips: a first step that heats without a start row is noted") {
  const Bench bench;
  const std::string heated = rates_C + "830,asap,60\n513,asap,180\n360,7,0\n300,13,0\n35,28,0\n";
  CHECK(bench.notes(heated, Finding::Kind::heats) ==
        "step 1 heats, to 830 °C: the program has no start row and is taken to begin at 800 °C. Is "
        "its target right? Key a lower one, or say with --from where the firing begins");
  CHECK(bench.notes(by_rate("513,asap,180"), Finding::Kind::heats) == "");
}

TEST_CASE("slips: an anneal without a hold is asked about, with the hold that evens the glass") {
  const Bench bench;
  const std::string said = bench.slips(by_rate("513,asap,0"));
  CHECK(starts(said,
               "step 1 goes through 513 °C without a hold (0 min), but the glass is even only"));
  CHECK(ends(said, "an anneal meant? then key a hold of about 90 min"));
  CHECK(bench.notes(by_rate("513,asap,0"), Finding::Kind::hold_too_short) == "");
  CHECK(ends(bench.slips(times_C + "513,asap\n360,1311\n300,277\n35,570\n"),
             "then key a row more to the same target of about 90 min"));
  CHECK(bench.slips(by_rate("513,asap,90")) == "");
}

TEST_CASE("slips: a hold hotter than an anneal is no reason to ask for another") {
  CHECK(Bench{}.slips(rates_C + "590,asap,180\n500,50,0\n360,7,0\n300,13,0\n35,28,0\n") == "");
}

TEST_CASE("slips: a first row of 0 minutes at the anneal is asked about, one at the top is not") {
  const Bench bench;
  const std::string rest = "513,180\n360,1311\n300,277\n35,570\n";
  CHECK(bench.slips(times_C + "513,0\n" + rest) ==
        "the first row, 513 °C in 0 min, is where the program starts: the fall to 513 °C is not in "
        "it; as fast as the kiln goes meant? then key asap for the 0");
  CHECK(bench.slips(times_C + "800,0\n513,90\n" + rest) == "");
}

TEST_CASE("slips: a program that ends hot: what the controller does then, and the step to key") {
  const std::string ends_hot = rates_C + "513,asap,180\n360,7,0\n";
  Bench bench;
  bench.controller_named = true;
  bench.controller.after_end = Controller::AfterEnd::holds;
  const std::string holds = bench.slips(ends_hot);
  CHECK(starts(holds,
               "no step takes it to the room: after it this controller holds 360 °C until it is "
               "switched off; a last step missing? then key a step more to 35 °C at "));
  CHECK(ends(holds, " °C/h or slower"));
  bench.controller.after_end = Controller::AfterEnd::returns;
  CHECK(
      starts(bench.slips(ends_hot),
             "no step takes it to the room: after it this controller goes from 360 °C to its main "
             "setpoint; a last step missing?"));
  CHECK(bench.slips(by_rate("513,asap,180")) == "");
}

TEST_CASE("slips: a program that ends hot in a kiln that falls by itself") {
  const std::string ends_hot = rates_C + "513,asap,180\n360,7,0\n";
  Bench fast;
  fast.kiln = example::kiln("small-fibre");
  const std::string said = fast.slips(ends_hot);
  CHECK(said.find("falls by itself, over the limits as simulated") != std::string::npos);
  // The step that it says to key keeps the limits.
  const std::string at = "35 °C at ";
  const std::size_t number = said.find(at) + at.size();
  const std::string rate = said.substr(number, said.find(" °C/h or slower") - number);
  CHECK(fast.checked(ends_hot + "35," + rate + ",0\n").verdict == Verdict::within);

  Bench slow;
  const std::string ends_warm = rates_C + "513,asap,180\n360,7,0\n300,13,0\n100,28,0\n";
  CHECK(slow.slips(ends_warm) == "");
  CHECK(slow.notes(ends_warm, Finding::Kind::no_cooling_to_room) ==
        "no step takes it to the room: with the elements off from 100 °C the kiln falls by itself, "
        "within the limits as simulated");
}

TEST_CASE("slips: a last target near the room or below it is noted with what to key") {
  const auto note = [](const std::string& last) {
    return Bench{}.notes(rates_C + "513,asap,180\n360,7,0\n300,13,0\n" + last + ",28,0\n",
                         Finding::Kind::no_cooling_to_room);
  };
  CHECK(
      note("25") ==
      "the last target, 25 °C, is within 15 °C of the room (20 °C): a kiln may never reach it and "
      "the program never end; key 35 °C or above");
  CHECK(starts(note("15"), "the last target, 15 °C, is below the room (20 °C): "));
  CHECK(note("35") == "");
}

TEST_CASE("slips: a stage that ends by the kiln's temperature, with the target for the core") {
  Bench bench;
  // Behind its mould the core is some 13 K above the kiln at the end of the slow stage.
  bench.casting = example::in_plaster(example::slab_of_mm(80.0), 25.0);
  const std::string start = rates_C + "513,asap,1900\n";
  const std::string keyed = start + "440,4,0\n35,40,0\n";
  const std::string said = bench.slips(keyed);
  REQUIRE(starts(said, "step 2 ends when the kiln is at 440 °C; the core is then still at "));
  const std::string then_key = "then key ";
  const std::size_t number = said.find(then_key) + then_key.size();
  const std::string target = said.substr(number, said.find(" °C at the same rate") - number);
  const CheckResult before = bench.checked(keyed);
  const CheckResult after = bench.checked(start + target + ",4,0\n35,40,0\n");
  CHECK(after.measured.permanent.retardation < before.measured.permanent.retardation);
  const double core_C =
      Temperature::from_K(after.measured.history.at(after.measured.steps[1].end_s).centre_K).in_C();
  constexpr double whole_degree_C = 1.5;  // the target is in whole degrees, downwards
  CHECK(std::abs(core_C - 440.0) <= whole_degree_C);
  // Within the limits nothing is asked, though the core lags as much.
  bench.limits.grade = Retardation::from_nm_per_cm(1000.0);
  bench.limits.tension = Stress::from_MPa(7.0);
  CHECK(bench.slips(keyed) == "");
}

TEST_CASE("readings: of short times, of clock digits, of ramps") {
  const auto meant = [](const std::vector<AnotherReading>& readings) {
    std::string all;
    for (const AnotherReading& reading : readings)
      all += reading.meant + " -> " + reading.key + "; ";
    return all;
  };
  CHECK(meant(readings_of_short_time(minutes(20.0))) == "20 h -> 1200 min; ");
  CHECK(meant(readings_of_short_time(minutes(5.30))) ==
        "5.3 h -> 318 min; 5 h 30 min -> 330 min; ");
  CHECK(meant(readings_of_short_time(minutes(5.75))) == "5.75 h -> 345 min; ");
  CHECK(reading_of_long_time(hours(240.0)).key == "240 min");
  CHECK(reading_as_clock(minutes(400.0))->key == "240 min");
  CHECK(reading_as_clock(minutes(130.0))->meant == "1:30");
  CHECK_FALSE(reading_as_clock(minutes(170.0)).has_value());
  CHECK_FALSE(reading_as_clock(minutes(90.0)).has_value());
  CHECK_FALSE(reading_as_clock(minutes(130.5)).has_value());
  const Step by_minutes{.target = Temperature::from_C(360.0), .pace = minutes(20.0)};
  CHECK(meant(readings_of_fast_ramp(by_minutes, 180.0, Degrees::celsius)) ==
        "20 h -> 1200 min; 20 °C/h -> 540 min; ");
  CHECK(meant(readings_of_fast_ramp(by_minutes, 100.0, Degrees::fahrenheit)) ==
        "20 h -> 1200 min; 20 °F/h -> 540 min; ");
  const Step by_rates{.target = Temperature::from_C(360.0), .pace = Rate::from_K_per_h(600.0)};
  CHECK(meant(readings_of_fast_ramp(by_rates, 150.0, Degrees::celsius)) == "600 min -> 15 °C/h; ");
  const Step own_pace{.target = Temperature::from_C(360.0), .pace = AsFastAsPossible{}};
  CHECK(readings_of_fast_ramp(own_pace, 150.0, Degrees::celsius).empty());
}

TEST_CASE("readings: a rate to key is never faster than the rate") {
  CHECK(rate_to_key(Rate::from_K_per_h(15.99), Degrees::celsius) == "15 °C/h");
  CHECK(rate_to_key(Rate::from_K_per_h(7.69), Degrees::celsius) == "7.6 °C/h");
  CHECK(rate_to_key(Rate::from_K_per_h(7.6), Degrees::celsius) == "7.6 °C/h");
  CHECK(rate_to_key(Rate::from_K_per_h(0.559), Degrees::celsius) == "0.55 °C/h");
  CHECK(rate_to_key(Rate::from_F_per_h(40.0), Degrees::fahrenheit) == "40 °F/h");
}

TEST_CASE("slips: the digits of as fast as it goes are no minutes, and are asked about") {
  Bench bench;
  bench.casting = example::slab_of_mm(100.0);
  const std::string program = rates_C + "513,asap,600\n360,9999,0\n300,3,0\n35,7,0\n";
  CHECK(bench.slips(program) == "");  // as minutes they would be 0.9 C/h
  bench.controller_named = true;
  bench.controller.as_fast_key = "9999";
  CHECK(bench.slips(program) ==
        "step 2: 9999 is as fast as it goes on this controller, and this casting bears about "
        "2.3 °C/h: a ramp meant? then key that or slower");
  // For the fall to the hold they are right.
  CHECK(bench.slips(rates_C + "513,9999,600\n360,2,0\n300,3,0\n35,7,0\n") == "");
}

TEST_CASE("needs: what a casting bears goes with one over the thickness squared") {
  const Limits limits;
  const Temperature top = Temperature::from_C(500.0), low = Temperature::from_C(360.0);
  const auto of_mm = [&](double thickness_mm) {
    return BearableRate{example::slab_of_mm(thickness_mm), limits};
  };
  const auto bears_K_per_h = [&](double thickness_mm) {
    return of_mm(thickness_mm).over(top, low)->in_K_per_h();
  };
  CHECK(bears_K_per_h(50.0) / bears_K_per_h(100.0) == doctest::Approx(4.0).epsilon(1e-9));
  const BearableRate bears = of_mm(50.0);
  CHECK_FALSE(bears.over(Temperature::from_C(800.0), Temperature::from_C(513.0)).has_value());
  // Below the setting range tension alone bounds.
  CHECK(bears.over(Temperature::from_C(250.0), Temperature::from_C(35.0)) > bears.over(top, low));
}

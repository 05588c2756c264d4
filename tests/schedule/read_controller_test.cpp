#include "schedule/read_controller.h"

#include <doctest/doctest.h>

#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

constexpr const char* least = "step_form = rate_target_hold\ndegrees = C\nsteps = 9\n";

/// Message of a file with these lines after the needed ones, without its folder.
std::string reading(const std::string& lines) {
  const TemporaryFolder folder;
  const std::string path = folder.file("box.controller", lines);
  std::string message = message_of([&] { read_controller(path); });
  for (std::size_t at = message.find(folder.path()); at != message.npos;
       at = message.find(folder.path())) {
    message.erase(at, folder.path().size() + 1);
  }
  return message;
}

std::string with_least(const std::string& lines) {
  return reading(least + lines);
}

}  // namespace

TEST_CASE("controller file: the least one stands on defaults, with what is unknown marked") {
  const TemporaryFolder folder;
  const Controller c = read_controller(folder.file("box.controller", least));
  CHECK(c.name == "box");
  CHECK(c.title == "box");
  CHECK(c.steps == 9);
  CHECK_FALSE(c.as_fast_key.has_value());
  CHECK(c.end_key.empty());
  CHECK(c.late_on_cooling == Controller::LateOnCooling::goes_on);
  CHECK_FALSE(c.late_on_cooling_known);
}

TEST_CASE("controller file: steps in F stay in F") {
  const TemporaryFolder folder;
  const Controller c = read_controller(folder.file(
      "box.controller",
      "step_form = rate_target_hold\ndegrees = F\nsteps = 9\ndegree_step = 1 F\n"
      "rate_step = 1 F/h\nsmallest_rate = 1 F/h\nlargest_rate = 1799 F/h\nlowest_target = 32 F\n"));
  constexpr double rounding = 1e-12;
  CHECK(c.degree_step == doctest::Approx(1.0).epsilon(rounding));
  CHECK(c.rate_step_per_h == doctest::Approx(1.0).epsilon(rounding));
  CHECK(c.lowest_target.in_C() == doctest::Approx(0.0).epsilon(rounding));
  CHECK(c.largest_rate.in_F_per_h() == doctest::Approx(1799.0).epsilon(rounding));
}

TEST_CASE("controller file: needed keys, unknown keys and repeated keys are all told at once") {
  CHECK(reading("stepp = 7\nsteps = 7\nsteps = 8\n") ==
        "box.controller:1:1: \"stepp\" is not a known key; did you mean steps?\n"
        "box.controller:3:1: steps is given twice; leave one of them out\n"
        "box.controller: step_form is missing; write target_minutes or rate_target_hold or "
        "ramp_and_hold_lines\n"
        "box.controller: degrees is missing; write C or F");
  CHECK(reading("step_form = target_minutes\ndegrees = C\n") ==
        "box.controller: steps is missing; write how many steps a program may have");
}

TEST_CASE("controller file: each bad value has its message") {
  CHECK(reading("step_form = ramps\ndegrees = K\nsteps = 0\n") ==
        "box.controller:1:13: \"ramps\" is no value of step_form; write target_minutes or "
        "rate_target_hold or ramp_and_hold_lines\n"
        "box.controller:2:11: \"K\" is no value of degrees; write C or F\n"
        "box.controller:3:9: 0 steps; write a number from 1 to 999");
  CHECK(with_least("degree_step = 20 C\n") ==
        "box.controller:4:15: degree_step 20 C is outside 0.01 to 10 C; write the smallest step "
        "the display has");
  CHECK(with_least("rate_step = 200 C/h\nlargest_rate = 300 C/h\n").find("rate_step 200") !=
        std::string::npos);
  CHECK(with_least("time_step = 2 h\n").find("time_step 7200 s is outside 1 to 3600 s") !=
        std::string::npos);
  CHECK(with_least("highest_target = 3000 C\n") ==
        "box.controller:4:18: highest_target 3000 C is outside -50 to 2000 C; check the digits and "
        "the degrees");
  CHECK(with_least("lowest_target = 500 C\nhighest_target = 400 C\n") ==
        "box.controller:5:18: highest_target is not above lowest_target; the two may be swapped");
  CHECK(with_least("smallest_rate = 0 C/h\n") ==
        "box.controller:4:17: smallest_rate is not above 0; write the slowest ramp that can be "
        "keyed");
  CHECK(with_least("smallest_rate = 50 C/h\nlargest_rate = 40 C/h\n") ==
        "box.controller:5:16: no rate lies between smallest_rate and largest_rate; the two may be "
        "swapped");
  CHECK(with_least("longest_time = 30 s\n") ==
        "box.controller:4:16: longest_time is not between time_step and 1000 days; write the "
        "longest ramp or hold that can be keyed");
  CHECK(with_least("as_fast_as_possible = 9999\n") ==
        "box.controller:4:23: \"9999\" does not say what to key; write none, or key and the "
        "digits, as in key 9999");
  CHECK(with_least("end = key \n") ==
        "box.controller:4:7: \"key\" does not say what to key; write nothing, or key and the "
        "digits, as in key 9999");
  CHECK(with_least("start = here\n").find("write from_reading or stored") != std::string::npos);
  CHECK(
      with_least("late_on_cooling = sulks\n").find("write waits or goes_on or stops or unknown") !=
      std::string::npos);
  CHECK(with_least("after_end = explodes\n").find("write off or holds or returns") !=
        std::string::npos);
  CHECK(reading("step_form = target_minutes\ndegrees = C\nsteps = 7\nrate_step = 1 C/h\n") ==
        "box.controller:4:13: rate_step means nothing where steps are keyed by time; leave it out");
}

TEST_CASE("controller file: two forms and two degrees are kept, the first as the one described") {
  const TemporaryFolder folder;
  const Controller both =
      read_controller(folder.file("box.controller",
                                  "step_form = rate_target_hold or target_minutes\ndegrees = F or "
                                  "C\nsteps = 9\nrate_step = 2 F/h\n"));
  CHECK(both.step_form == Controller::StepForm::rate_target_hold);
  CHECK(both.other_step_form == Controller::StepForm::target_minutes);
  CHECK(both.degrees == Degrees::fahrenheit);
  CHECK(both.other_degrees == Degrees::celsius);
  CHECK(both.rate_step_per_h == doctest::Approx(2.0));
}

TEST_CASE("controller file: each bad pair of words has its message") {
  const std::string rest = "steps = 7\n";
  CHECK(reading("step_form = target_minutes\ndegrees = C or C\n" + rest) ==
        "box.controller:2:11: degrees names the same twice; write it once");
  CHECK(reading("step_form = target_minutes\ndegrees = C or K\n" + rest) ==
        "box.controller:2:11: \"C or K\" is no value of degrees; write C or F");
  CHECK(reading("step_form = rate_target_hold or ramp_and_hold_lines\ndegrees = C\n" + rest) ==
        "box.controller:1:13: neither form of step is target_minutes; leave out the one with more "
        "steps to key");
  // Rates mean something where one of the two forms has them.
  CHECK(reading("step_form = target_minutes or rate_target_hold\ndegrees = C\nrate_step = 2 C/h\n" +
                rest) == "no error");
}

TEST_CASE("controller file: values that are no quantity are refused") {
  for (const char* const bad : {"longest_time = nan min\n",
                                "degree_step = inf C\n",
                                "rate_step = 1\n",
                                "smallest_rate = -1 C/h\n",
                                "highest_target = 1300\n",
                                "longest_time = 1e300 h\n"}) {
    CAPTURE(bad);
    CHECK(with_least(bad) != "no error");
  }
}

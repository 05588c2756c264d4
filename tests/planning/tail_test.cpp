#include "planning/tail.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "checking/remedy.h"
#include "message_of.h"
#include "schedule/read_controller.h"

using namespace thickset;

namespace {

Controller controller(const std::string& name) {
  return read_controller(example::data_path("controllers/" + name + ".controller"));
}

/// The tail's program with one stage faster by the smallest unit that the controller takes, in
/// every step that the stage was split into.
Program one_unit_faster(const Tail& tail,
                        std::size_t stage,
                        const Controller& box,
                        const Firing& firing) {
  Program changed = tail.fitted.program;
  const Temperature start = start_of(changed, firing);
  for (std::size_t i = 0; i < changed.steps.size(); ++i) {
    if (tail.fitted.from_step[i] != static_cast<int>(stage) + 1) continue;
    if (const auto* time = std::get_if<Duration>(&changed.steps[i].pace)) {
      changed.steps[i].pace = *time - box.time_step;
      continue;
    }
    const double unit_K_per_h = box.rate_step_per_h / (box.degrees == Degrees::celsius ? 1.0 : 1.8);
    const double rate_K_per_h = keyed_step(changed, i, start).rate->in_K_per_h();
    changed = with_rate(changed, i, Rate::from_K_per_h(rate_K_per_h + unit_K_per_h));
  }
  return changed;
}

double setting_rate_K_per_h(const Tail& tail) {
  double slowest = tail.stages.front().rate.in_K_per_h();
  for (const Stage& stage : tail.stages) slowest = std::min(slowest, stage.rate.in_K_per_h());
  return slowest;
}

const std::vector<std::string> controllers = {"seven-steps-by-time",
                                              "twelve-steps-by-time-F",
                                              "ten-steps-by-rate",
                                              "ten-steps-by-rate-F",
                                              "twenty-steps-by-rate",
                                              "ramp-and-hold-lines"};

}  // namespace

TEST_CASE("every tail passes its own check; a binding stage one unit faster fails it") {
  const std::vector<Shape> shapes = {
      Slab{Length::from_mm(50.0)},
      Block{Length::from_mm(75.0), Length::from_mm(75.0), Length::from_mm(150.0)}};
  const Kiln kiln = example::kiln();
  const TailRequest request;
  for (const Shape& shape : shapes) {
    const Casting casting = example::of_shape(shape);
    for (const std::string& name : controllers) {
      CAPTURE(name);
      CAPTURE(describe(shape, Lengths::millimetre));
      const Controller box = controller(name);
      const Tail tail = plan_tail(casting, kiln, box, request);
      CHECK(tail.cannot.empty());
      CHECK(tail.check.verdict == Verdict::within);
      CHECK(tail.steps_used <= box.steps);
      int named = 0;
      for (std::size_t i = 0; i < tail.stages.size(); ++i) {
        const Limiting limiting = tail.stages[i].limiting;
        CHECK(limiting != Limiting::nothing);
        if (limiting != Limiting::yours) ++named;
        if (!tail.stages[i].binding()) continue;
        const CheckResult faster = check(casting,
                                         kiln,
                                         box.late_on_cooling,
                                         one_unit_faster(tail, i, box, request.firing),
                                         request.firing,
                                         request.limits,
                                         false);
        CHECK(faster.verdict != Verdict::within);
      }
      CHECK(named >= 1);
    }
  }
}

TEST_CASE("the closed form guesses the rates of a slab to within a factor of 1.8") {
  const Tail tail =
      plan_tail(example::slab_of_mm(50.0), example::kiln(), controller("twenty-steps-by-rate"), {});
  const double setting = setting_rate_K_per_h(tail);
  const double run_out = tail.stages.back().rate.in_K_per_h();
  // The guess knows nothing of what later, faster stages add (setting comes out slower) nor of the
  // compression that stays in the surface (run-out comes out faster, up to the kiln's own fall).
  constexpr double first_guess = 1.8;
  const double of_setting = setting / tail.estimate.setting.in_K_per_h();
  const double of_run_out = run_out / tail.estimate.run_out.in_K_per_h();
  CHECK(of_setting > 1.0 / first_guess);
  CHECK(of_setting < 1.1);
  CHECK(of_run_out > 1.0 / first_guess);
  CHECK(of_run_out < first_guess);
}

TEST_CASE("a thicker piece never gets a faster stage nor a shorter hold") {
  double last_setting = 1e9;
  Duration last_hold{0.0};
  for (const double thickness_mm : {20.0, 35.0, 60.0, 100.0}) {
    CAPTURE(thickness_mm);
    const Tail tail = plan_tail(
        example::slab_of_mm(thickness_mm), example::kiln(), controller("seven-steps-by-time"), {});
    CHECK(tail.check.verdict == Verdict::within);
    CHECK(setting_rate_K_per_h(tail) < last_setting);
    CHECK(tail.hold.total() > last_hold);
    last_setting = setting_rate_K_per_h(tail);
    last_hold = tail.hold.total();
  }
}

TEST_CASE("a stricter grade never gives a shorter tail") {
  double last_h = 0.0;
  for (const double grade_nm_per_cm : {40.0, 20.0, 10.0, 5.0}) {
    CAPTURE(grade_nm_per_cm);
    TailRequest request;
    request.limits.grade = Retardation::from_nm_per_cm(grade_nm_per_cm);
    const Tail tail = plan_tail(
        example::slab_of_mm(50.0), example::kiln(), controller("seven-steps-by-time"), request);
    CHECK(tail.check.verdict == Verdict::within);
    CHECK(in_h(tail.check.program_time) > last_h);
    last_h = in_h(tail.check.program_time);
  }
}

TEST_CASE("too few steps or too slow a rate is said, with the nearest that can be keyed") {
  TailRequest request;
  request.steps = 2;
  const Tail two = plan_tail(
      example::slab_of_mm(50.0), example::kiln(), controller("ten-steps-by-rate"), request);
  CHECK(two.steps_used <= 2);
  CHECK(two.check.verdict == Verdict::within);

  const Tail slow =
      plan_tail(example::slab_of_mm(200.0), example::kiln(), controller("ten-steps-by-rate"), {});
  CHECK_FALSE(slow.cannot.empty());
  CHECK(slow.check.verdict == Verdict::over);
}

TEST_CASE(
    "the user's own hold temperature is kept and one in degrees F by mistake is asked about") {
  TailRequest request;
  request.hold_temperature = Temperature::from_C(495.0);
  const Tail tail = plan_tail(
      example::slab_of_mm(40.0), example::kiln(), controller("ten-steps-by-rate"), request);
  CHECK(std::abs(tail.fitted.program.steps.front().target.in_C() - 495.0) <= 1e-9);
  CHECK(tail.check.verdict == Verdict::within);

  request.hold_temperature = Temperature::from_C(930.0);
  const std::string message = message_of([&] {
    plan_tail(example::slab_of_mm(40.0), example::kiln(), controller("ten-steps-by-rate"), request);
  });
  CHECK(message.find("930 C is above the softening point") != std::string::npos);
  CHECK(message.find("did you mean 930 F (499 C)?") != std::string::npos);
}

TEST_CASE("price list: each stage more is quicker, and auto takes the fewest within 5 %") {
  TailRequest request;
  request.all_prices = true;
  const Casting casting = example::slab_of_mm(50.0);
  const Kiln kiln = example::kiln("small-fibre");
  const Controller box = controller("seven-steps-by-time");
  const Tail quickest = plan_tail(casting, kiln, box, request);
  REQUIRE(quickest.prices.size() >= 3);
  for (std::size_t i = 1; i < quickest.prices.size(); ++i) {
    CHECK(quickest.prices[i].stages > quickest.prices[i - 1].stages);
    CHECK(quickest.prices[i].cool_down < quickest.prices[i - 1].cool_down);
    CHECK(quickest.prices[i].left <= 1.0);
  }
  CHECK(quickest.prices.back().over_least >= 0.0);

  request.fewest_steps = true;
  const Tail fewest = plan_tail(casting, kiln, box, request);
  CHECK(fewest.check.verdict == Verdict::within);
  const Duration least = quickest.hold.total() + quickest.prices.back().cool_down;
  for (const StagePrice& price : quickest.prices) {
    const bool near_enough = quickest.hold.total() + price.cool_down <= 1.05 * least;
    if (price.stages < fewest.stages.size()) CHECK_FALSE(near_enough);
    if (price.stages == fewest.stages.size()) CHECK(near_enough);
  }
}

TEST_CASE("a grade that cannot be kept: the least that can is named, and can be planned") {
  TailRequest request;
  request.limits.grade = Retardation::from_nm_per_cm(0.5);
  request.steps = 2;
  const Casting casting = example::slab_of_mm(50.0);
  const Controller box = controller("ten-steps-by-rate");
  const Tail tail = plan_tail(casting, example::kiln(), box, request);
  CHECK(tail.check.verdict == Verdict::over);
  REQUIRE(tail.cannot.size() == 1);
  CHECK(tail.cannot.front().find("0.5 nm/cm cannot be kept; the least found that can is") == 0);
  const double least_nm_per_cm = tail.check.measured.permanent.retardation.in_nm_per_cm();
  constexpr double treatments_differ = 1.2;  // what is named is of one of three, all have to pass
  request.limits.grade = Retardation::from_nm_per_cm(treatments_differ * least_nm_per_cm);
  CHECK(plan_tail(casting, example::kiln(), box, request).cannot.empty());
}

TEST_CASE("several castings in one kiln: the tail keeps the limits for each of them") {
  const std::vector<Casting> castings = {example::slab_of_mm(25.0), example::slab_of_mm(60.0)};
  const Kiln kiln = example::kiln("small-fibre");
  const Controller box = controller("seven-steps-by-time");
  const TailRequest request;
  const Tail both = plan_tail(castings, kiln, box, request);
  const Tail thick = plan_tail(castings.back(), kiln, box, request);
  CHECK(both.cannot.empty());
  for (const Casting& casting : castings) {
    const CheckResult alone = check(
        casting, kiln, box.late_on_cooling, both.fitted.program, request.firing, request.limits);
    CHECK(alone.verdict == Verdict::within);
  }
  constexpr double local_minima = 0.01;
  CHECK(both.check.program_time >= (1.0 - local_minima) * thick.check.program_time);
}

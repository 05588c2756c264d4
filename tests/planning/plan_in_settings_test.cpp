#include "planning/plan_in_settings.h"

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "message_of.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

Controller either() {
  return read_controller(example::data_path("controllers/fifteen-steps-either-way.controller"));
}

double tail_h(const Tail& tail) {
  return in_h(tail.check.opens ? tail.check.open_after : tail.check.program_time);
}

}  // namespace

TEST_CASE("plan in settings: none of the settings would give a tail that is shorter" *
          doctest::skip(slow_build)) {
  constexpr double alike_share = 1e-3;  // settings closer than that count as alike
  const Casting casting = example::slab_of_mm(50.0);
  const Kiln kiln = example::kiln();
  const TailInSetting chosen = plan_tail_in_settings(casting, kiln, either(), {}, {}, std::nullopt);
  CHECK(chosen.tail.cannot.empty());
  CHECK(chosen.tail.fitted.program.notation == chosen.set_to.notation());
  CHECK(chosen.tail.fitted.program.degrees == chosen.set_to.degrees);
  CHECK(chosen.choice.starts_with("set to " + setting_name(chosen.set_to)));
  for (const Controller& setting : settings_of(either())) {
    CAPTURE(setting_name(setting));
    const Tail tail = plan_tail(casting, kiln, setting, {});
    CHECK(tail_h(chosen.tail) <= tail_h(tail) * (1.0 + alike_share));
    CHECK(chosen.choice.find(setting_name(setting)) != std::string::npos);
  }
}

// 200 mm sets at well below 1 C/h (computed, not published): by rates of whole degrees it takes
// rests.
TEST_CASE("plan in settings: a very thick slab is keyed by time, as no rate is slow enough" *
          doctest::skip(slow_build)) {
  const Casting casting = example::slab_of_mm(200.0);
  const Kiln kiln = example::kiln();
  const TailInSetting chosen =
      plan_tail_in_settings(casting, kiln, either(), {}, {}, Degrees::celsius);
  CHECK(chosen.set_to.notation() == Notation::time);
  CHECK(chosen.tail.cannot.empty());
  CHECK(chosen.choice.find("C by rate takes") != std::string::npos);
  for (const Stage& stage : chosen.tail.stages) CHECK(in_s(stage.rest) == 0.0);
}

TEST_CASE("plan in settings: degrees asked for leave only the settings in them") {
  const TailInSetting chosen = plan_tail_in_settings(
      example::slab_of_mm(25.0), example::kiln(), either(), {}, {}, Degrees::fahrenheit);
  CHECK(chosen.set_to.degrees == Degrees::fahrenheit);
  CHECK(chosen.choice.find("C by") == std::string::npos);
}

TEST_CASE("plan in settings: a heat-up leaves its steps to no tail, and one too long is refused") {
  const auto with_reserve = [](int reserved) {
    return plan_tail_in_settings(example::slab_of_mm(25.0),
                                 example::kiln(),
                                 either(),
                                 {},
                                 {reserved, std::nullopt, {.source = "--reserve"}},
                                 Degrees::celsius);
  };
  const TailInSetting chosen = with_reserve(12);
  CHECK(chosen.heat_up_steps == 12);
  CHECK(chosen.tail.steps_used <= 3);
  CHECK(
      message_of([&] { with_reserve(16); }).starts_with("--reserve: your heat-up takes 16 steps"));
}

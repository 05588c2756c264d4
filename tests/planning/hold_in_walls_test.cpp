#include "planning/hold_in_walls.h"

#include <cmath>

#include <doctest/doctest.h>

#include "planning/hold_course.h"
#include "planning/stages.h"
#include "planning/tail.h"
#include "schedule/read_controller.h"
#include "simulation/example_walls.h"
#include "simulation/steady_cooling.h"
#include "slow_build.h"

using namespace thickset;
using namespace thickset::example;

namespace {

const Rate setting = Rate::from_K_per_h(3.0);

Hold hold_of(const Casting& casting) {
  return size_hold(casting, kiln(), {}, setting);
}

Controller box() {
  return read_controller(data_path("controllers/ten-steps-by-rate.controller"));
}

double rate_K_per_h(const Tail& tail, PlannedStage::Kind kind) {
  for (const Stage& stage : tail.stages) {
    if (stage.kind == kind) return stage.rate.in_K_per_h();
  }
  return 0.0;
}

}  // namespace

TEST_CASE("hold in walls: a thicker mould lengthens arriving and evening, never shortens") {
  Duration arriving{0.0};
  Duration even{0.0};
  for (const double wall_mm : {0.0, 5.0, 12.0, 25.0, 50.0, 100.0}) {
    CAPTURE(wall_mm);
    const Hold hold = hold_of(in_plaster(slab_of_mm(50.0), wall_mm));
    CHECK(hold.arriving > arriving);
    CHECK(hold.arriving + hold.evening > even);
    arriving = hold.arriving;
    even = hold.arriving + hold.evening;
  }
}

// The core is within arrival_tol_K of the kiln when arriving ends, in a simulation that looks
// there.
TEST_CASE("hold in walls: arriving ends when the slowest glass is near, not when the kiln is") {
  const Casting casting = on_plaster(slab_of_mm(60.0), 25.0, true);
  const Temperature at = casting.glass.annealing_point.value;
  const std::optional<HoldCourse> course =
      hold_course(casting, fast_kiln(), Temperature::from_C(830.0), at, setting);
  REQUIRE(course.has_value());
  const double fall_s = (830.0 - at.in_C()) / 300.0 * 3600.0;
  const double looks_s = fall_s + in_s(course->arrived);
  const AirCurve air{
      .corners = {{0.0, 830.0 + 273.15, 0}, {fall_s, at.in_K(), 0}, {looks_s, at.in_K(), 0}}};
  const History history =
      simulate(casting, fast_kiln(), air, Temperature::from_C(830.0), Respect::slowest_mode);
  const double behind_K = history.rows.back().centre_K - at.in_K();
  CHECK(std::abs(behind_K - arrival_tol_K) <= 0.1 * arrival_tol_K);
}

TEST_CASE("hold in walls: bare, half and double conductivity stand on their sides of the hold") {
  const Casting casting = in_plaster(slab_of_mm(75.0), 25.0);
  const Temperature at = casting.glass.annealing_point.value;
  const Duration needed = hold_of(casting).needed();
  const HoldInWalls walls = hold_in_walls(casting, kiln(), {}, setting, at, Degrees::celsius);
  CHECK(walls.bare == hold_of(slab_of_mm(75.0)).needed());
  REQUIRE(walls.if_conduct.size() == 2);
  CHECK(walls.if_conduct[0].factor == 0.5);
  CHECK(walls.if_conduct[0].needed > 1.4 * needed);
  CHECK(walls.if_conduct[1].factor == 2.0);
  CHECK(walls.if_conduct[1].needed < needed);
  CHECK(walls.if_conduct[1].needed > walls.bare);

  Casting published = casting;
  Wall wall = plaster(25.0);
  wall.layers.front().material->status = Mould::Status::published;
  published.walls = Walls{.top = wall, .bottom = wall};
  CHECK(hold_in_walls(published, kiln(), {}, setting, at, Degrees::celsius).if_conduct.empty());
}

TEST_CASE("tail in walls: an even mould keeps the slow rate and lengthens the hold" *
          doctest::skip(slow_build)) {
  TailRequest request;
  request.hold_temperature = Temperature::from_C(513.0);
  const Tail bare = plan_tail(slab_of_mm(75.0), kiln(), box(), request);
  const Tail in_mould = plan_tail(in_plaster(slab_of_mm(75.0), 25.0), kiln(), box(), request);
  for (const Tail* tail : {&bare, &in_mould}) {
    CHECK(tail->cannot.empty());
    CHECK(tail->check.verdict == Verdict::within);
  }
  CHECK(in_mould.hold.total() > bare.hold.total() + hours(8.0));
  const auto slow = [](const Tail& tail) {
    return rate_K_per_h(tail, PlannedStage::Kind::setting);
  };
  CHECK(std::abs(slow(in_mould) - slow(bare)) <= 1.0 + 1e-9);  // of whole degrees an hour
}

// At the end of the slow stage the kiln is keyed cooler than the glass then is, by the lag.
TEST_CASE("tail in walls: stages are keyed as the kiln reads, the glass is behind by its lag" *
          doctest::skip(slow_build)) {
  const Casting casting = in_plaster(slab_of_mm(75.0), 25.0);
  const Tail tail = plan_tail(casting, kiln(), box(), {});
  std::size_t slow = 0;
  for (std::size_t i = 0; i < tail.stages.size(); ++i) {
    if (tail.stages[i].rate < tail.stages[slow].rate) slow = i;
  }
  // Steps of this controller: the hold, then a step each stage.
  const double end_s = tail.check.measured.steps[slow + 1].end_s;
  const History::Row& end = tail.check.measured.history.at(end_s);
  CHECK(std::abs(end.kiln_K - tail.stages[slow].to.in_K()) <= 0.5);
  const double lag_K =
      tail.stages[slow].rate.in_K_per_s() *
      steady_cooling(casting, Exchange::with(kiln()), tail.stages[slow].to).behind_kiln_s();
  CHECK(end.centre_K - end.kiln_K > 0.7 * lag_K);
}

TEST_CASE("tail in walls: an open face held flat is planned slower than free to bend" *
          doctest::skip(slow_build)) {
  const Tail held = plan_tail(on_plaster(slab_of_mm(60.0), 25.0, true), kiln(), box(), {});
  const Tail free = plan_tail(on_plaster(slab_of_mm(60.0), 25.0, false), kiln(), box(), {});
  CHECK(held.check.verdict == Verdict::within);
  CHECK(free.check.verdict == Verdict::within);
  CHECK(rate_K_per_h(held, PlannedStage::Kind::setting) <
        rate_K_per_h(free, PlannedStage::Kind::setting));
  CHECK(held.check.program_time > free.check.program_time);
  // What was planned free to bend is over the limits when the mould holds it.
  const CheckResult gripped = check(on_plaster(slab_of_mm(60.0), 25.0, true),
                                    kiln(),
                                    box().late_on_cooling,
                                    free.fitted.program,
                                    {},
                                    {},
                                    false);
  CHECK(gripped.verdict == Verdict::over);
}

TEST_CASE("tail in walls: it opens by the glass, later than bare under the same program" *
          doctest::skip(slow_build)) {
  const Tail tail = plan_tail(in_plaster(slab_of_mm(75.0), 25.0), kiln(), box(), {});
  const CheckResult bare =
      check(slab_of_mm(75.0), kiln(), box().late_on_cooling, tail.fitted.program, {}, {}, false);
  REQUIRE(bare.opens);
  REQUIRE(tail.check.opens);
  CHECK(tail.check.open_after > bare.open_after);
  const History::Row& open = tail.check.measured.history.at(in_s(tail.check.open_after));
  CHECK(open.centre_K <= 35.0 + 273.15 + 0.01);  // 15 K above the room of 20 C
}

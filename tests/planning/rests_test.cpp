#include "planning/rests.h"

#include <cmath>
#include <optional>
#include <vector>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "planning/one_unit_faster.h"
#include "planning/tail_planner.h"
#include "schedule/read_controller.h"
#include "slow_build.h"

using namespace thickset;

namespace {

constexpr double per_h = 1.0 / 3600.0;
constexpr double rounding_s = 1e-6;

double time_s(const Course& course) {
  double sum_s = 0.0;
  for (std::size_t i = 0; i < course.size(); ++i) sum_s += course.asked_s(i) + course.resting_s(i);
  return sum_s;
}

}  // namespace

TEST_CASE("rests: a start for a search takes as long, no stage slower than asked") {
  const Course course{
      780.0, {740.0, 680.0, 600.0, 310.0}, {50 * per_h, 0.5 * per_h, 2 * per_h, 9 * per_h}};
  for (int rests = 1; rests <= 3; ++rests) {
    const std::optional<Course> resting = with_rests(course, 1.0 * per_h, rests);
    REQUIRE(resting);
    CHECK(resting->size() == course.size() + static_cast<std::size_t>(rests));
    CHECK(std::abs(time_s(*resting) - time_s(course)) <= rounding_s);
    for (std::size_t i = 0; i < resting->size(); ++i) {
      CHECK(resting->rate_K_per_s[i] >= 1.0 * per_h);
      CHECK(resting->width_K(i) > 0.0);
    }
    CHECK(resting->to_K.back() == course.to_K.back());
  }
  CHECK_FALSE(with_rests(course, 0.4 * per_h, 1));
}

TEST_CASE("rests: 200 mm at 1 C an hour and no slower, each rest as short as the limits let it be" *
          doctest::skip(slow_build)) {
  const Casting casting = example::slab_of_mm(200.0);
  const Kiln kiln = example::kiln();
  const Controller box =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));
  const TailRequest request;
  const Tail tail = plan_tail(casting, kiln, box, request);
  CHECK(tail.cannot.empty());
  CHECK(tail.check.verdict == Verdict::within);
  CHECK(tail.steps_used <= box.steps);
  const auto passes = [&](const Program& program) {
    return check(casting, kiln, box.late_on_cooling, program, request.firing, request.limits, false)
               .verdict == Verdict::within;
  };
  int rests = 0;
  for (std::size_t i = 0; i < tail.stages.size(); ++i) {
    if (in_s(tail.stages[i].rest) == 0.0) continue;
    ++rests;
    CHECK(tail.stages[i].limiting_rest == Limiting::retardation);
    CHECK_FALSE(passes(rest_one_unit_shorter(tail, i, box)));
  }
  CHECK(rests >= 1);
  REQUIRE(tail.prices.size() >= 2);  // one rest more is quicker
}

TEST_CASE("rests: whether there is a tail is told as planning it finds, with rests and without") {
  const std::vector<Casting> castings = {example::slab_of_mm(150.0)};
  const Kiln kiln = example::kiln("small-fibre");
  const Controller box =
      read_controller(example::data_path("controllers/ten-steps-by-rate.controller"));
  TailRequest request;
  request.hold_temperature = Temperature::from_C(500.0);
  request.bulks = {Bulk::constant_ratio};
  int with_rests = 0, without = 0, none = 0;
  for (const double grade_nm_per_cm : {2.0, 18.0, 40.0}) {
    CAPTURE(grade_nm_per_cm);
    request.limits.grade = Retardation::from_nm_per_cm(grade_nm_per_cm);
    const TailPlanner planner{castings, kiln, box, request};
    const std::optional<Tail> tail = planner.plan();
    CHECK(planner.can_plan() == tail.has_value());
    if (!tail) {
      ++none;
    } else {
      ++(tail->planned.rests() ? with_rests : without);
    }
  }
  CHECK(with_rests == 1);
  CHECK(without == 1);
  CHECK(none == 1);
}

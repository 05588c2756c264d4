#include "planning/cool_down.h"

#include <algorithm>
#include <cmath>
#include <vector>

#include <doctest/doctest.h>

#include "checking/example_casting.h"
#include "stress/retardation.h"

using namespace thickset;

namespace {

constexpr auto waits = Controller::LateOnCooling::waits;

Program program_of(const Program& to_hold_end, const std::vector<Step>& steps) {
  Program program = to_hold_end;
  program.steps.insert(program.steps.end(), steps.begin(), steps.end());
  return program;
}

Program to_hold_end() {
  Program program;
  program.steps.push_back(
      {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hours(6.0)});
  return program;
}

const std::vector<Step>& tail() {
  static const std::vector<Step> steps = {
      {.target = Temperature::from_C(400.0), .pace = Rate::from_K_per_h(4.0)},
      {.target = Temperature::from_C(330.0), .pace = Rate::from_K_per_h(11.0), .hold = hours(0.5)},
      {.target = Temperature::from_C(40.0), .pace = Rate::from_K_per_h(40.0)}};
  return steps;
}

// Of shares of a limit, about 1: the same steps in time, on another clock.
constexpr double two_runs_tol = 1e-9;
// The kiln counts as arrived a millionth of a kelvin early.
constexpr double arrived_tol = 1e-8;

}  // namespace

TEST_CASE("from the hold's end a cool-down comes to what the whole program comes to") {
  const Kiln kiln = example::kiln("small-fibre");
  const Firing firing;
  const Limits limits;
  const std::vector<Shape> shapes = {
      Slab{Length::from_mm(60.0)},
      Rod{Length::from_mm(60.0)},
      Block{Length::from_mm(75.0), Length::from_mm(75.0), Length::from_mm(150.0)}};
  const std::vector<Bulk> bulks{all_bulks.begin(), all_bulks.end()};
  for (const Shape& shape : shapes) {
    CAPTURE(describe(shape, Lengths::millimetre));
    const std::vector<Casting> castings{example::of_shape(shape)};
    const CoolDown cool_down{
        castings, kiln, waits, firing, to_hold_end(), bulks, limits, tail().back().target};
    const CoolDown::Outcome outcome = cool_down.run(tail());
    REQUIRE(outcome.left.size() == bulks.size());
    REQUIRE(outcome.tension.size() == tail().size() + 1);

    std::vector<double> tension(tail().size() + 1, 0.0);
    for (std::size_t i = 0; i < bulks.size(); ++i) {
      SimulationSettings settings;
      settings.bulk = bulks[i];
      const Measured whole = measure(
          castings.front(), kiln, waits, program_of(to_hold_end(), tail()), firing, settings);
      const double left = whole.permanent.retardation.in_nm_per_cm() / limits.grade.in_nm_per_cm();
      CHECK(std::abs(outcome.left[i] / left - 1.0) <= two_runs_tol);
      for (std::size_t step = 0; step < tension.size(); ++step) {
        tension[step] =
            std::max(tension[step], whole.steps[step + 1].tension_Pa / limits.tension.in_Pa());
      }
      if (i > 0) continue;
      const double kiln_at_end_s = whole.steps.back().start_s - whole.steps[1].start_s;
      CHECK(std::abs(outcome.time_s / kiln_at_end_s - 1.0) <= arrived_tol);
    }
    for (std::size_t step = 0; step < tension.size(); ++step) {
      CAPTURE(step);
      CHECK(std::abs(outcome.tension[step] - tension[step]) <= two_runs_tol);
    }
    CHECK(cool_down.time_s(tail()) == outcome.time_s);
  }
}

TEST_CASE("castings in one kiln come to what each comes to alone") {
  const Kiln kiln = example::kiln("small-fibre");
  const Limits limits;
  const std::vector<Bulk> bulks{Bulk::relaxing, Bulk::elastic};
  const std::vector<Casting> both{example::slab_of_mm(25.0), example::slab_of_mm(60.0)};
  const auto run = [&](const std::vector<Casting>& castings) {
    const CoolDown cool_down{
        castings, kiln, waits, {}, to_hold_end(), bulks, limits, tail().back().target};
    return cool_down.run(tail());
  };
  const CoolDown::Outcome together = run(both);
  const CoolDown::Outcome thin = run({both[0]});
  const CoolDown::Outcome thick = run({both[1]});
  REQUIRE(together.left.size() == 4);
  // The wait after the program is that of the thicker one, so that steps of the thin one differ.
  CHECK(std::abs(together.left[0] - thin.left[0]) <= two_runs_tol);
  CHECK(std::abs(together.left[1] - thin.left[1]) <= two_runs_tol);
  CHECK(together.left[2] == thick.left[0]);
  CHECK(together.left[3] == thick.left[1]);
  for (std::size_t i = 0; i < together.tension.size(); ++i) {
    const double larger = std::max(thin.tension[i], thick.tension[i]);
    CHECK(std::abs(together.tension[i] - larger) <= two_runs_tol);
  }
  CHECK(together.governing() >= 2);  // the thick one
}

TEST_CASE("only the cases asked for are simulated") {
  const std::vector<Casting> both{example::slab_of_mm(25.0), example::slab_of_mm(60.0)};
  const std::vector<Bulk> bulks{all_bulks.begin(), all_bulks.end()};
  const CoolDown cool_down{
      both, example::kiln(), waits, {}, to_hold_end(), bulks, {}, tail().back().target};
  REQUIRE(cool_down.cases().size() == 6);
  const CoolDown::Outcome all = cool_down.run(tail());
  const CoolDown::Outcome one = cool_down.run(tail(), cool_down.cases().subspan(4, 1));
  REQUIRE(one.left.size() == 1);
  CHECK(one.left.front() == all.left[4]);
  for (std::size_t i = 0; i < all.tension.size(); ++i) CHECK(one.tension[i] <= all.tension[i]);
}

TEST_CASE("a branch comes to what its whole run comes to, to the bit, wherever it parts") {
  const std::vector<Casting> both{
      example::slab_of_mm(25.0),
      example::of_shape(
          Block{Length::from_mm(60.0), Length::from_mm(60.0), Length::from_mm(90.0)})};
  const std::vector<Bulk> bulks{all_bulks.begin(), all_bulks.end()};
  for (const char* kiln : {"small-fibre", "middling-brick"}) {  // the second is late
    CAPTURE(kiln);
    const CoolDown cool_down{
        both, example::kiln(kiln), waits, {}, to_hold_end(), bulks, {}, tail().back().target};
    const CoolDown::Trunk trunk = cool_down.trunk(tail(), cool_down.cases());
    const auto same = [&](const std::vector<Step>& steps) {
      const CoolDown::Outcome branch = cool_down.branch(trunk, steps);
      const CoolDown::Outcome whole = cool_down.run(steps);
      CHECK(branch.left == whole.left);
      CHECK(branch.tension == whole.tension);
      CHECK(branch.time_s == whole.time_s);
    };
    CHECK(trunk.outcome().left == cool_down.run(tail()).left);
    same(tail());
    for (std::size_t i = 0; i < tail().size(); ++i) {
      std::vector<Step> changed = tail();
      changed[i].pace = Rate::from_K_per_h(17.0);
      same(changed);
    }
    std::vector<Step> more = tail();
    more.insert(more.begin() + 2,
                Step{.target = Temperature::from_C(200.0), .pace = Rate::from_K_per_h(25.0)});
    same(more);
  }
}

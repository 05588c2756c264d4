#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "checking/check.h"
#include "checking/if_walls_conduct.h"
#include "simulation/example_walls.h"

using namespace thickset;
using namespace thickset::example;

namespace {

constexpr auto waits = Controller::LateOnCooling::waits;

Program cool_down(Duration hold, Rate slow) {
  Program program;
  program.steps.push_back(
      {.target = Temperature::from_C(513.0), .pace = AsFastAsPossible{}, .hold = hold});
  program.steps.push_back({.target = Temperature::from_C(350.0), .pace = slow});
  program.steps.push_back({.target = Temperature::from_C(40.0), .pace = Rate::from_K_per_h(15.0)});
  return program;
}

CheckResult checked(const Casting& casting, const Program& program) {
  return check(casting, kiln(), waits, program, {}, {}, false);
}

bool says(const CheckResult& result, const std::string& part) {
  return std::any_of(result.findings.begin(), result.findings.end(), [&](const Finding& finding) {
    return finding.text.find(part) != std::string::npos;
  });
}

const Rate slow = Rate::from_K_per_h(1.5);

}  // namespace

TEST_CASE("check in a mould: a hold that does for the bare slab ends before the glass is there") {
  const Program program = cool_down(hours(6.0), slow);
  const std::string behind = "the slowest glass, behind its wall, is still ";
  const CheckResult bare = checked(slab_of_mm(75.0), program);
  CHECK_FALSE(says(bare, behind));
  CHECK_FALSE(says(bare, "the core is still"));
  const CheckResult in_mould = checked(in_plaster(slab_of_mm(75.0), 25.0), program);
  CHECK(says(in_mould, behind));
  CHECK(says(in_mould, "a hold counts from when the glass has arrived"));
  CHECK(says(in_mould, "the core is still"));
  const CheckResult long_enough =
      checked(in_plaster(slab_of_mm(75.0), 25.0), cool_down(hours(30.0), slow));
  CHECK_FALSE(says(long_enough, behind));
  CHECK_FALSE(says(long_enough, "the core is still"));
}

TEST_CASE("check in a mould: after a long hold one slow rate leaves what it leaves bare") {
  constexpr double alike = 0.01;
  Program program = cool_down(hours(40.0), slow);
  program.steps.pop_back();  // one rate all the way: a step up comes later to glass in a mould
  program.steps.back().target = Temperature::from_C(40.0);
  const auto left = [&](const Casting& casting) {
    return checked(casting, program).measured.permanent.retardation.in_nm_per_cm();
  };
  const double bare = left(slab_of_mm(75.0));
  CHECK(std::abs(left(in_plaster(slab_of_mm(75.0), 12.0)) / bare - 1.0) <= alike);
  const double open_face_held = left(on_plaster(slab_of_mm(75.0), 25.0, true));
  const double open_face_free = left(on_plaster(slab_of_mm(75.0), 25.0, false));
  CHECK(open_face_held > 1.5 * bare);
  CHECK(std::abs(open_face_free / bare - 1.0) <= 0.05);
}

TEST_CASE("check in a mould: half and double are those of a wall that conducts so") {
  const Casting casting = on_plaster(slab_of_mm(60.0), 25.0, true);
  const Program program = cool_down(hours(12.0), slow);
  const std::vector<IfWallsConduct> outcomes =
      if_walls_conduct(casting, kiln(), waits, program, {}, {}, all_bulks);
  REQUIRE(outcomes.size() == 2);
  for (const IfWallsConduct& outcome : outcomes) {
    CAPTURE(outcome.factor);
    Casting changed = casting;
    changed.walls = casting.walls->with_assumed_conductivity_times(outcome.factor);
    const CheckResult result = checked(changed, program);
    double worst_nm_per_cm = 0.0;
    for (const CheckResult::OfTreatment& of : result.treatments) {
      worst_nm_per_cm = std::max(worst_nm_per_cm, of.retardation.in_nm_per_cm());
    }
    CHECK(outcome.retardation.in_nm_per_cm() == worst_nm_per_cm);
    CHECK(in_s(outcome.open_after) >= in_s(result.open_after));
  }
  CHECK(outcomes[0].retardation > outcomes[1].retardation);
  CHECK(if_walls_conduct(slab_of_mm(60.0), kiln(), waits, program, {}, {}, all_bulks).empty());
}

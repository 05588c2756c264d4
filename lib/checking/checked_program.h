#pragma once

#include "checking/check.h"
#include "checking/limit_findings.h"
#include "checking/remedy.h"

#include <algorithm>
#include <span>
#include <string>

namespace thickset {

/// A program, what it was checked for and what came out: where slips are looked for.
struct CheckedProgram {
  const Casting& casting;
  const Kiln& kiln;
  const Controller& controller;
  bool controller_named;  ///< false: a stand-in, whose ways are not the user's
  const Program& program;
  const Firing& firing;
  const Limits& limits;
  const CheckResult& result;
  std::span<const Bulk> held_to = all_bulks;  ///< besides the glass's own, as check() was told

  Temperature start() const { return start_of(program, firing); }
  KeyedStep keyed(std::size_t step) const { return keyed_step(program, step, start()); }
  Measured run(const Program& changed) const {
    return measure(casting, kiln, controller.late_on_cooling, changed, firing);
  }
  /// The larger of what each treatment of the bulk leaves and pulls.
  Measured run_worst(const Program& changed) const {
    Measured worst = run(changed);
    for (const Bulk bulk : held_to) {
      if (bulk == casting.glass.relaxation.bulk) continue;
      take_larger(
          worst,
          measure(casting, kiln, controller.late_on_cooling, changed, firing, {.bulk = bulk}));
    }
    return worst;
  }
  /// Over a limit in a step, or in the next where the kiln is late and falls on in that.
  bool hurts(std::size_t step) const {
    const auto share = [&](std::size_t i) {
      return nearest_limit(result.measured.steps[i], limits).share;
    };
    const auto& late = result.measured.followed.late;
    const bool falls_on = std::any_of(late.begin(), late.end(), [&](const auto& of) {
      return of.step == static_cast<int>(step);
    });
    return share(step) > 1.0 || (falls_on && share(step + 1) > 1.0);
  }
  std::string step_name(std::size_t step) const {
    return "step " + std::to_string(static_cast<int>(step) + firing.first_step);
  }
};

}  // namespace thickset

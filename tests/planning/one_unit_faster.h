#pragma once

#include <cstddef>
#include <variant>

#include "checking/remedy.h"
#include "planning/tail.h"

namespace thickset {

/// The tail's program with one stage faster by the smallest unit that the controller takes, in
/// every step that the stage was split into.
inline Program one_unit_faster(const Tail& tail,
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

/// The tail's program with the rest after one stage shorter by the smallest unit, in every step
/// that the rest was split into.
inline Program rest_one_unit_shorter(const Tail& tail, std::size_t stage, const Controller& box) {
  Program changed = tail.fitted.program;
  for (std::size_t i = 0; i < changed.steps.size(); ++i) {
    Step& step = changed.steps[i];
    if (tail.fitted.from_step[i] != static_cast<int>(stage) + 1) continue;
    if (in_s(step.hold) > 0.0) step.hold -= box.time_step;
  }
  return changed;
}

}  // namespace thickset

#pragma once

#include <vector>

#include "planning/stages.h"
#include "schedule/program.h"

namespace thickset {

/// A cool-down in stages of one rate each, as the planner computes with it: before any rounding.
struct Course {
  double hold_K;
  std::vector<double> to_K;          ///< falling; the last is where the program ends
  std::vector<double> rate_K_per_s;  ///< positive, as many
  std::vector<double> rest_s{};      ///< held at each stage's end, as many; empty: nowhere

  std::size_t size() const { return to_K.size(); }
  double from_K(std::size_t stage) const { return stage == 0 ? hold_K : to_K[stage - 1]; }
  double width_K(std::size_t stage) const { return from_K(stage) - to_K[stage]; }
  /// As the program asks, whatever the kiln can.
  double asked_s(std::size_t stage) const { return width_K(stage) / rate_K_per_s[stage]; }
  double resting_s(std::size_t stage) const { return rest_s.empty() ? 0.0 : rest_s[stage]; }
  bool rests() const { return !rest_s.empty(); }
  std::size_t slowest() const;
};

/// Upper stages down to the slowest, that one the setting stage, easing below it, the last one the
/// run-out where it is not itself the slowest.
std::vector<PlannedStage> stages_of(const Course& course);

/// The program's steps after the hold.
std::vector<Step> steps_of(const Course& course);

}  // namespace thickset

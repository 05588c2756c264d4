#pragma once

#include "checking/checked_program.h"

#include <optional>

/// About what a casting needs: against it a keyed number looks right or absurd. For that alone; a
/// limit is never judged by it.
namespace thickset {

/// How fast a casting may go from one temperature to another, by closed form.
///
/// Error: a factor of two or three, since stages ease from one bound to the other.
/// Source: stress/permanent_estimate.h, both formulas solved for the rate.
class BearableRate {
 public:
  BearableRate(const Casting& casting, const Limits& limits);

  /// nullopt where any pace does: a fall from above the setting range to a hold in it.
  std::optional<Rate> over(Temperature from, Temperature to) const;

 private:
  Temperature annealing_, strain_;
  double grade_K_per_s_, tension_K_per_s_;  ///< while stress is set; below that
};

/// How long after the kiln has become level at the target of `step` the slowest glass is there and
/// even: simulated, with a long hold in that step's place. nullopt: not within that hold.
std::optional<Duration> time_to_even_at(const CheckedProgram& checked, std::size_t step);

}  // namespace thickset

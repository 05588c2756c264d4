#pragma once

#include "checking/finding.h"
#include "checking/limits.h"
#include "checking/measure.h"
#include "schedule/controller.h"
#include "schedule/program.h"
#include "simulation/casting.h"

#include <string>
#include <vector>

namespace thickset {

enum class Verdict { within, over };

/// What one step of a program does to the glass.
struct StepResult {
  Temperature from, to;               ///< as keyed
  Duration duration{0.0};             ///< as this kiln runs it, ramp and hold
  Rate rate = Rate::from_K_per_s(0);  ///< of the ramp as keyed, positive; 0: a hold alone or asap
  double largest_difference_K = 0.0;  ///< centre - surface, absolute
  double tension_Pa = 0.0;            ///< largest anywhere in the glass
  /// The computed permanent retardation, in proportion to this step's gradient.
  double retardation_nm_per_cm = 0.0;
  std::string limited_by{};    ///< "retardation", "tension", "kiln", ...: what is nearest
  double nearest_share = 0.0;  ///< largest value / limit of the step
  bool over = false;
  std::optional<Rate> passing_rate{};  ///< where over
};

struct CheckResult {
  Measured measured;  ///< history, permanent stress, largest tension, ...
  Verdict verdict = Verdict::within;
  std::vector<StepResult> steps;  ///< one for each step of the program
  std::vector<Finding> findings;  ///< worst first
  Duration program_time{0.0};     ///< as this kiln runs it
  Duration open_after{0.0};       ///< from the start until it may be opened
  bool opens = false;             ///< false: not within the time simulated
};

/// Runs a program as this controller in this kiln would and compares with the limits.
///
/// with_remedies: also compute passing rates (more simulations).
/// shown: the degrees of the findings' sentences.
/// Throws: Error when the input cannot be simulated.
CheckResult check(const Casting& casting,
                  const Kiln& kiln,
                  Controller::LateOnCooling late,
                  const Program& program,
                  const Firing& firing,
                  const Limits& limits,
                  bool with_remedies = true,
                  Degrees shown = Degrees::celsius);

}  // namespace thickset

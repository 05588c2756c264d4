#pragma once

#include "checking/finding.h"
#include "checking/limits.h"
#include "checking/measure.h"
#include "schedule/controller.h"
#include "schedule/program.h"
#include "simulation/casting.h"

#include <span>
#include <string>
#include <vector>

namespace thickset {

/// too_close_to_call: within under the glass's own treatment of the bulk, over under another.
enum class Verdict { within, too_close_to_call, over };

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
  /// What each treatment of the bulk that the program is held to leaves and pulls, the glass's own
  /// first.
  struct OfTreatment {
    Bulk bulk;
    Retardation retardation;
    double peak_tension_Pa;
  };
  std::vector<OfTreatment> treatments;
  std::vector<StepResult> steps;  ///< one for each step of the program
  std::vector<Finding> findings;  ///< worst first
  Duration program_time{0.0};     ///< as this kiln runs it
  Duration open_after{0.0};       ///< from the start until it may be opened
  bool opens = false;             ///< false: not within the time simulated
};

/// Runs a program as this controller in this kiln would and compares with the limits.
///
/// with_remedies: also compute passing rates, under all treatments held to (more simulations).
/// shown: the degrees of the findings' sentences.
/// held_to: the treatments of the bulk that a program must be within the limits under, besides the
/// glass's own.
/// Throws: Error when the input cannot be simulated.
CheckResult check(const Casting& casting,
                  const Kiln& kiln,
                  Controller::LateOnCooling late,
                  const Program& program,
                  const Firing& firing,
                  const Limits& limits,
                  bool with_remedies = true,
                  Degrees shown = Degrees::celsius,
                  std::span<const Bulk> held_to = all_bulks);

}  // namespace thickset

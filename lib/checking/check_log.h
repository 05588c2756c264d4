#pragma once

#include "base/progress.h"
#include "checking/check.h"
#include "checking/log_course.h"
#include "schedule/firing_log.h"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace thickset {

/// A log against the program that was meant to run, the two put together where the fall begins: at
/// the end of the hold, or where one has none, where the kiln last passes the annealing point.
struct AgainstPlan {
  CheckResult planned;   ///< the program, simulated in the same kiln
  double later_s = 0.0;  ///< from the log's start to that of the plan
  /// From the start of the fall on, where both run: the kiln above and below the plan at most, and
  /// when; zero where never.
  double above_K = 0.0, above_at_s = 0.0;
  double below_K = 0.0, below_at_s = 0.0;
  /// Of each stretch of the fall: the rate of the plan over the same temperatures, where it has
  /// one.
  std::vector<std::optional<Rate>> rates;
};

/// A real firing, checked.
struct LogCheck {
  CheckResult result;  ///< a step for each stretch; times since the first reading
  LogCourse run;
  double centre_at_end_K = 0.0;  ///< slowest glass at the last reading
  bool ends_warm = false;        ///< what comes after the log is assumed and matters
  /// The kiln never reached the strain point in it: what was set before is not known, and a firing
  /// within the limits is too close to call.
  bool begins_late = false;
  std::optional<AgainstPlan> plan;
};

/// What a log's course does to a casting under one treatment of the bulk.
Measured measure_log(const Casting& casting, const Kiln& kiln, const LogCourse& run, Bulk bulk);

/// Simulates what the kiln did and compares with the limits; after the last reading the kiln is
/// taken to fall by itself. Nothing permanent is read before all is even at the room's temperature.
///
/// plan: the program that was meant, if any; it is run as this controller in this kiln would.
/// with_remedies: also compute the rates that would have passed (more simulations; on a line within
/// 1 K of the log, to 1 %).
/// Throws: Error when the input cannot be simulated.
LogCheck check_log(const Casting& casting,
                   const Kiln& kiln,
                   Controller::LateOnCooling late,
                   const FiringLog& log,
                   const std::optional<Program>& plan,
                   const Firing& firing,
                   const Limits& limits,
                   bool with_remedies,
                   Degrees shown,
                   std::span<const Bulk> held_to,
                   const Progress& progress = {});

}  // namespace thickset

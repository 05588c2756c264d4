#pragma once

#include "checking/firing_so_far.h"
#include "checking/limits.h"
#include "checking/opening.h"
#include "schedule/fit_to_controller.h"

#include <optional>
#include <utility>
#include <vector>

/// How a firing that is under way may go on from now.
namespace thickset {

/// One way on, in the steps of the controller, simulated from the present state of the glass.
struct WayOn {
  enum class Kind {
    go_on,         ///< the rest of the program from here
    hold_here,     ///< wait at this temperature, then the rest from here
    back_to_hold,  ///< heat back, hold again in full, then the whole tail
    fall_closed,   ///< what stays can't be helped now: fall no faster than tension allows
  };
  Kind kind;
  FittedProgram fitted;  ///< from now on
  int steps = 0;         ///< of the controller
  /// Of its first step, where the kiln is at its temperature or goes there as fast as it can.
  std::optional<Duration> hold;
  std::optional<Rate> heating{};  ///< of the way back to the hold
  KilnCourse course;              ///< the firing so far and this
  Measured measured{};            ///< under the glass's own treatment of the bulk
  double leaves_nm_per_cm = 0.0;  ///< under the treatment that leaves most
  double pulls_Pa = 0.0;          ///< largest tension from now on, under the one that pulls most
  bool keeps_grade = false;
  /// No more than the limit; or than would come in that place if the kiln stayed where it is, and
  /// least_share_added of the limit (planning/rewarm.h).
  bool keeps_tension = false;
  bool relaxes = true;       ///< a hold that it has is long enough
  bool before_hold = false;  ///< the program has not come to its hold yet
  Opening opening{};         ///< from now
  bool passes() const { return keeps_grade && keeps_tension && relaxes && fitted.cannot.empty(); }
};

/// What pulls most from now on, under one treatment of the bulk, if the kiln stayed where it is.
///
/// Glass that has fallen fast evens out, and what is set in it shows as tension then; no way on
/// avoids that.
struct IfHeldHere {
  Bulk bulk;
  double surface_Pa = 0.0, centre_Pa = 0.0, anywhere_Pa = 0.0;
  double stays_Pa = 0.0;  ///< at the centre when the glass has evened out
};

/// What is needed to judge a way on.
struct WaysRequest {
  const Casting& casting;
  const Kiln& kiln;
  const Controller& controller;
  Firing firing;
  Limits limits;
  std::vector<Bulk> bulks;
  bool hold_relaxes = false;               ///< of the program, where it runs as keyed
  bool hold_was_full = false;              ///< the hold is over, and was as long as the program's
  std::vector<IfHeldHere> if_held_here{};  ///< for the glass's own treatment and each of bulks
};

/// A course from now on: the firing so far and then a program. Its hold is the one to come or under
/// way, where there is one.
KilnCourse course_from_now(const Program& rest,
                           const FiringSoFar& so_far,
                           const WaysRequest& request);

/// The same where the kiln stays where it is, for so long.
KilnCourse held_here(const FiringSoFar& so_far, const WaysRequest& request, Duration length);

/// For WaysRequest::if_held_here, which need not be set for it.
std::vector<IfHeldHere> if_held_here(const FiringSoFar& so_far, const WaysRequest& request);

/// Every treatment of the bulk held to, the glass's own first.
std::vector<Bulk> held_to(const WaysRequest& request);

/// What the glass is pulled by in some time, against the limit.
struct Ahead {
  double pulls_Pa = 0.0;
  bool within = true;
};

/// Between two moments under one treatment of the bulk.
/// In: of_centre, the same course of the body that is right at the centre, where it is another:
///     Measured::of_permanent.
Ahead ahead(const History& history,
            const std::optional<History>& of_centre,
            double from_s,
            double to_s,
            Bulk bulk,
            const WaysRequest& request);

/// Largest values of a course under every treatment held to.
struct Judged {
  double leaves_nm_per_cm = 0.0, pulls_Pa = 0.0;
  bool keeps_tension = true;
  /// Of each treatment: at each moment the largest tension from it on.
  std::vector<std::vector<std::pair<double, double>>> largest_from_s{};

  /// Largest tension from a moment on.
  double pulls_from_Pa(double time_s) const;
};

/// In: own, the course measured under the glass's own treatment.
Judged judge_course(const KilnCourse& course,
                    const FiringSoFar& so_far,
                    const WaysRequest& request,
                    const Measured& own);

/// A course under the glass's own treatment of the bulk.
Measured measure_own(const KilnCourse& course,
                     const FiringSoFar& so_far,
                     const WaysRequest& request);

/// One way: fitted to the controller, simulated under every treatment held to.
WayOn judge(WayOn::Kind kind,
            const Program& rest,
            const FiringSoFar& so_far,
            const WaysRequest& request);

/// Whether it keeps the limits, and not only what comes whatever is done.
bool within(const WayOn& way, const Limits& limits);

}  // namespace thickset

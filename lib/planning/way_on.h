#pragma once

#include "base/progress.h"
#include "checking/firing_so_far.h"
#include "checking/limits.h"
#include "checking/opening.h"
#include "planning/rest_of_program.h"
#include "schedule/fit_to_controller.h"

#include <optional>
#include <span>
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
  FittedProgram fitted;           ///< from now on
  int steps = 0;                  ///< of the controller
  std::optional<Duration> hold;   ///< before anything falls
  std::optional<Rate> heating{};  ///< of the way back to the hold
  KilnCourse course;              ///< the firing so far and this
  Measured measured{};            ///< under the glass's own treatment of the bulk
  double leaves_nm_per_cm = 0.0;  ///< under the treatment that leaves most
  double pulls_Pa = 0.0;          ///< largest tension from now on, under the one that pulls most
  bool keeps_grade = false;
  /// No more than the limit; or than would come in that place if the kiln stayed where it is, and
  /// least_share_added of the limit (planning/rewarm.h).
  bool keeps_tension = false;
  bool relaxes = true;  ///< a hold that it has is long enough
  Opening opening{};    ///< from now
  bool passes() const { return keeps_grade && keeps_tension && relaxes && fitted.cannot.empty(); }
};

/// What pulls most from now on, under one treatment of the bulk, if the kiln stayed where it is.
///
/// Glass that has fallen fast evens out, and what is set in it shows as tension then; no way on
/// avoids that.
struct IfHeldHere {
  Bulk bulk;
  double surface_Pa, centre_Pa, anywhere_Pa;
};

/// What is needed to judge a way on.
struct WaysRequest {
  const Casting& casting;
  const Kiln& kiln;
  const Controller& controller;
  Firing firing;
  Limits limits;
  std::vector<Bulk> bulks;
  std::vector<IfHeldHere> if_held_here{};  ///< for each of bulks and the glass's own
};

/// For WaysRequest::if_held_here, which need not be set for it.
std::vector<IfHeldHere> if_held_here(const FiringSoFar& so_far, const WaysRequest& request);

/// A course from now on in which the kiln stays where it is, for so long.
KilnCourse held_here(const FiringSoFar& so_far, const WaysRequest& request, Duration length);

/// One way: fitted to the controller, simulated under every treatment held to.
WayOn judge(WayOn::Kind kind,
            const Program& rest,
            const FiringSoFar& so_far,
            const WaysRequest& request);

/// Every way that makes sense from here: go on; below the hold, while the slowest glass is still in
/// the setting range, also wait here and go back. Where
/// none passes, the last is to let it fall. The first that passes is to be taken: less is done to
/// the glass by it than by those after it.
///
/// The rate back is the quickest of those tried that pulls little enough, by simulation.
std::vector<WayOn> ways_on(const TailOfProgram& tail,
                           const FiringSoFar& so_far,
                           const WaysRequest& request,
                           const Progress& progress = {});

/// The first that passes; else the one nearest to it, the last where others leave little less.
const WayOn& advised(std::span<const WayOn> ways);

/// How long after now the elements may go off for good, in whole minutes: from there on the kiln's
/// own fall keeps the limits as well as the way itself. nullopt: not before its end.
///
/// Bisection: taken as one moment, before which it is too early.
std::optional<Duration> elements_off_after(const WayOn& way,
                                           const FiringSoFar& so_far,
                                           const WaysRequest& request);

/// What stays whatever is done, short of heating it again: the rest at a tenth of its pace.
Retardation certain_by_now(const WayOn& go_on,
                           const FiringSoFar& so_far,
                           const WaysRequest& request);

}  // namespace thickset

#pragma once

#include "base/error.h"
#include "checking/log_course.h"
#include "checking/measure.h"
#include "kiln/follow.h"
#include "stress/relaxing_body.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// What a kiln did from the start of a firing until now.
struct FiringSoFar {
  AirCurve air;       ///< from 0 s; its last corner is now
  Temperature start;  ///< of the glass throughout
  Temperature kiln;   ///< what the display shows now
  stress::RelaxationSettings relaxation{};
  std::optional<AnnealHold> hold{};  ///< in it
  bool from_its_start = false;       ///< nothing of the firing came before it
  /// What is left of the program by its own clock, where the kiln is on it or, before the hold, was
  /// until the elements went off.
  std::optional<Program> on_program{};
  bool before_hold = false;          ///< and its hold is still to come
  bool hold_in_full = false;         ///< its hold is over, and was not cut short
  double in_pieces_until_s = 0.0;    ///< tension before it does not count
  std::vector<std::string> taken{};  ///< what was assumed to make it up, a sentence each

  double now_s() const { return air.end_s(); }
};

/// What a log shows, up to its last reading.
FiringSoFar so_far(const LogCourse& run, const Glass& glass);

/// Nothing but the display: the kiln fell by itself from firing.from, where the glass was even. Of
/// all firings that were nowhere hotter and in which the kiln fell no faster than by itself, this
/// has the hottest core. What stress stays it cannot tell.
FiringSoFar so_far(Temperature display, const Kiln& kiln, const Firing& firing, Degrees shown);

/// What is said of a display that is as cold as the room.
Error display_not_above_room(Temperature display, Degrees shown);

/// The firing so far, then a program from now on, then the kiln's own fall to the room. Steps: 0 is
/// what was, 1 on are the program's. Tension counts from now on, or from when the glass has
/// melted.
KilnCourse with_rest(const FiringSoFar& so_far,
                     const Program& rest,
                     const Casting& casting,
                     const Kiln& kiln,
                     Controller::LateOnCooling late,
                     const Firing& firing);

/// The firing so far, then the elements off after so long of a course that began with it.
KilnCourse with_elements_off(const FiringSoFar& so_far,
                             const KilnCourse& course,
                             Duration from_now,
                             const Casting& casting,
                             const Kiln& kiln,
                             const Firing& firing);

/// What a course that began with a firing so far does under one treatment of the bulk.
Measured measure_from(const FiringSoFar& so_far,
                      const KilnCourse& course,
                      const Casting& casting,
                      const Kiln& kiln,
                      Bulk bulk);

}  // namespace thickset

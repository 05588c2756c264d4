#pragma once

#include "planning/tail.h"

namespace thickset {

/// Where the hours of a tail go, each part after the one before: from the start of the firing to
/// the earliest opening.
struct TailHours {
  Duration arriving{0.0};     ///< the fall, and until the slowest glass has arrived at the hold
  Duration evening{0.0};      ///< as of the hold
  Duration relaxing{0.0};     ///< the rest of the hold, what it was rounded up by included
  Duration setting{0.0};      ///< from the hold's end until the slowest glass has set
  Duration running_out{0.0};  ///< the rest
  Duration total() const { return arriving + evening + relaxing + setting + running_out; }
};

/// Glass that is no hotter has set: gradients of later hardly count for what stays.
///
/// Source: notes/stress.md#where-stress-is-set; it lies below the strain point, since stress sets
/// below it too.
Temperature has_set_at(const Glass& glass);

/// In: a tail of this casting alone, as plan_tail gives it.
/// Out: the total is the earliest opening; where it does not open, the end of the program.
/// Error: that of one step of the simulation for the moment of setting, between whose ends the
/// temperature is taken to be linear; the other moments are corners of the program.
/// Throws: nothing.
TailHours hours_of(const Tail& tail, const Casting& casting);

}  // namespace thickset

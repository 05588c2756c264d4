#pragma once

#include "simulation/casting.h"
#include "simulation/history.h"
#include "units/duration.h"
#include "units/stress.h"
#include "units/temperature.h"

#include <algorithm>

namespace thickset {

/// When a kiln may be opened at the earliest.
struct Opening {
  bool opens = false;   ///< false: not within the history
  Duration after{0.0};  ///< from the history's start
};

inline constexpr double opening_above_room_K = 15.0;     ///< slowest glass no more above the room
inline constexpr double draught_film_W_per_m2_K = 20.0;  ///< still air is about 10

inline constexpr double still_air_film_W_per_m2_K = 10.0;

/// And no hotter than this: 40 C; in a hot room, to which a kiln takes for ever to fall, 6 K above
/// it.
inline Temperature opening_limit(Temperature room) {
  return std::max(Temperature::from_C(40.0), room + TemperatureDifference::from_K(6.0));
}

/// What an opened kiln exposes the piece to.
struct OpenedInto {
  double film_W_per_m2_K = draught_film_W_per_m2_K;
  bool in_mould = false;  ///< its walls stay on, where it has any
};

/// Tension that opening pulls in the surface of glass that is even and so much above the room;
/// elastic, and linear in the difference. A mould slows the loss: of unlike faces the one that
/// cools better counts, walls on chosen sides of a mesh do not.
double opening_tension_Pa(const Casting& casting,
                          TemperatureDifference above_room,
                          Temperature room,
                          const OpenedInto& into = {});

/// The first moment after not_before_s from which on the slowest glass is at most at opening_limit
/// and 15 K above the room, and opening would keep the tension within the limit (elastic; film
/// coefficients are assumed).
Opening earliest_opening(const Casting& casting,
                         const History& history,
                         Temperature room,
                         Stress tension_limit,
                         double not_before_s,
                         const OpenedInto& into = {});

}  // namespace thickset

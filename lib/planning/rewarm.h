#pragma once

#include <optional>
#include <span>
#include <vector>

#include "checking/limits.h"
#include "checking/measure.h"
#include "kiln/kiln.h"
#include "schedule/controller.h"
#include "simulation/casting.h"

namespace thickset {

/// Heating a cold piece for another anneal. Its centre is in tension while it is heated, on top of
/// the tension that stays in it from before: reheating adds where cooling relieves.
struct Rewarm {
  /// One step of the heating, as it is keyed.
  struct Heating {
    Temperature from, to;
    Rate rate;
    double added_Pa;     ///< largest tension at the centre by the heating
    double together_Pa;  ///< and with what is there already
  };
  std::vector<Heating> steps;
  Program program;             ///< the same, with its start at the room
  double existing_Pa = 0.0;    ///< at the centre, from the retardation read
  double allowed_Pa = 0.0;     ///< by the heating
  bool existing_over = false;  ///< what is there leaves less than the smallest share
  double peak_Pa = 0.0;        ///< largest together
  /// The slowest glass when the kiln arrives at the hold.
  TemperatureDifference behind = TemperatureDifference::from_K(0.0);
  Duration existing_relaxes{0.0};   ///< at the hold, until it is a small share of the grade
  std::vector<std::string> cannot;  ///< why it cannot be keyed
};

/// Of the tension limit, what heating may add even where the piece holds more already: else it
/// could never be warmed.
inline constexpr double least_share_added = 0.15;

/// The quickest heating in two steps, to the strain point and from there to the hold, whose tension
/// with what is there stays within the limit; in the controller's whole numbers, rates down.
///
/// What is there counts in full while the surface is below the strain point. Simulated with the
/// glass even at the room and frozen as it was at its strain point.
/// In: existing, the retardation read edge-on at the centre ("slab-equivalent" for other shapes).
/// Throws: Error when the input cannot be simulated.
Rewarm plan_rewarm(const Casting& casting,
                   const Kiln& kiln,
                   const Controller& controller,
                   const Firing& firing,
                   const Limits& limits,
                   Retardation existing,
                   Temperature hold);

/// How long glass at this temperature, of this fictive temperature, takes until this share of a
/// stress is left, and no more than a twentieth; no time where the share is 1 or more.
///
/// The series of the shear, its times longer by 1 + 4G/3K: no sooner than a plate relaxes where the
/// bulk does not, the slowest of the three treatments, and up to 42 % later. Source: Laplace
/// transform of the plate's modulus 18KG/(3K + 4G); notes/stress.md#relaxing-a-stress.
Duration time_until_left(const Glass& glass,
                         Temperature temperature,
                         Temperature fictive,
                         double share);

}  // namespace thickset

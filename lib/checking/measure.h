#pragma once

#include "kiln/follow.h"
#include "schedule/controller.h"
#include "schedule/program.h"
#include "simulation/casting.h"
#include "simulation/history.h"
#include "simulation/simulate.h"
#include "units/stress.h"

#include <functional>
#include <optional>
#include <vector>

namespace thickset {

/// How a firing begins and where it happens.
struct Firing {
  Temperature from = Temperature::from_C(800.0);  ///< glass and kiln at the start, even and relaxed
  Temperature room = Temperature::from_C(20.0);
  int first_step = 1;  ///< number of the program's first step in sentences, more after a heat-up
};

/// The last level stretch of a kiln's curve that can anneal.
struct AnnealHold {
  int step;
  Temperature temperature;
  double start_s, end_s;     ///< while the kiln is level
  double left_Pa;            ///< by the past when it ends; see checking/past.h
  double off_equilibrium_K;  ///< of the structure when it ends
  bool relaxes;              ///< both are as small as checking/past.h asks
};

/// The permanent stress: computed with relaxation, and beside it the closed-form estimate.
///
/// Read at the end of the history, when the casting is even at the room's temperature.
struct PermanentStress {
  double mid_Pa = 0.0;      ///< largest tension, at the mid-plane or centre
  double surface_Pa = 0.0;  ///< negative: compression
  Retardation retardation = Retardation::from_nm_per_cm(0.0);  ///< of mid_Pa, seen edge-on
  double surface_fictive_K = 0.0, centre_fictive_K = 0.0;
  double net_stress_Pa = 0.0;  ///< largest force out of balance at any time, over the section
  double uneven_K = 0.0;       ///< centre less surface when it was read

  /// Classical formula, and times the structural factor. The gradient is the largest between the
  /// annealing point and 100 K below the strain point, after the hold; an estimate:
  /// notes/stress.md#permanent-estimate says where it stops being valid.
  double classical_mid_Pa = 0.0;
  double estimate_factor = 1.0;
  double estimate_mid_Pa() const { return estimate_factor * classical_mid_Pa; }
  int step = -1;  ///< whose gradient the estimate rests on

  /// Computed over classical.
  double structural_factor() const {
    return classical_mid_Pa > 0.0 ? mid_Pa / classical_mid_Pa : 0.0;
  }
};

/// One program run by one kiln: everything limits are compared with.
struct Measured {
  /// Of one step: index i of the program, and one more for what comes after its last step.
  struct OfStep {
    double start_s = 0.0, end_s = 0.0;
    double largest_difference_K = 0.0;
    double tension_Pa = 0.0;  ///< largest anywhere in the glass
    /// The computed permanent retardation times this step's largest gradient over the largest of
    /// all.
    double retardation_nm_per_cm = 0.0;
  };
  FollowedProgram followed;
  History history;
  std::optional<AnnealHold> hold;
  double window_start_s = 0.0;  ///< from here on gradients can stay
  std::vector<OfStep> steps;
  PermanentStress permanent;
  History::Profile profile;             ///< at the end, of the body whose permanent stress counts
  std::optional<History> of_permanent;  ///< of that body, where it is another
  const History& permanent_history() const { return of_permanent ? *of_permanent : history; }
  double peak_tension_Pa = 0.0;
  int peak_tension_step = -1;
  double counts_from_s = 0.0;  ///< tension before it does not count
};

/// Runs a program as this kiln and controller would, then lets the kiln fall to the room by itself.
/// Tension until it melts the glass does not count: on the way up that was in pieces.
///
/// Shapes that are simulated as slabs are run twice: for temperatures and the tension of cooling as
/// the slab of the same steady difference, for the permanent stress and the tension of heating,
/// both at the centre, as that of the same permanent tension.
///
/// Throws: Error when the input cannot be simulated.
Measured measure(const Casting& casting,
                 const Kiln& kiln,
                 Controller::LateOnCooling late,
                 const Program& program,
                 const Firing& firing,
                 const SimulationSettings& settings = {});

/// Ratio of the permanent centre tension of a shape to that of the slab it is simulated as for
/// temperatures; 1 where it is simulated as it is, and one run is enough.
double permanent_by_simulated(const Shape& shape);

/// A course of the kiln that is already known, and what is needed to measure it.
struct KilnCourse {
  FollowedProgram followed;          ///< to where the casting is even at the room's temperature
  Temperature start;                 ///< of the glass throughout
  std::size_t steps;                 ///< that it is cut into; index `steps` is what comes after
  std::optional<AnnealHold> hold{};  ///< in it; step, temperature, start and end
  double counts_from_s = 0.0;        ///< tension before it does not count
};

/// What a known course does to the casting. Throws: Error as above.
Measured measure(const Casting& casting,
                 const Kiln& kiln,
                 const KilnCourse& course,
                 const SimulationSettings& settings = {});

/// Measures one course with another casting or another treatment of the bulk.
using MeasureCasting = std::function<Measured(const Casting&, Bulk)>;

/// Where a level stretch of a kiln's curve can anneal this glass: from 60 K below the strain point
/// to 60 K above the annealing point.
struct HoldRange {
  Temperature lowest, highest;
};
HoldRange hold_range(const Glass& glass);

/// The last level stretch of a kiln's curve that can anneal; what is judged of it is left at zero.
std::optional<AnnealHold> find_hold(const AirCurve& air, const Glass& glass);

/// The kiln's own fall from `last` to the room and a wait that evens any casting out.
Step fall_to_room(Temperature last, const Casting& casting, const Firing& firing);

/// The program, and after it the kiln's own fall to the room and a wait that evens any casting out.
Program with_fall_to_room(const Program& program, const Casting& casting, const Firing& firing);

/// Where the glass is when a program begins: its start row, else where the firing begins.
Temperature start_of(const Program& program, const Firing& firing);

}  // namespace thickset

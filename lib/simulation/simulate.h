#pragma once

#include "kiln/follow.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"
#include "simulation/history.h"
#include "stress/relaxing_body.h"
#include "units/temperature.h"

#include <optional>

namespace thickset {

/// Which behaviour of the casting a simulation must get right; see EquivalentSlabs.
enum class Respect {
  steady_difference,  ///< temperature differences and temporary tension
  slowest_mode,       ///< how long arriving and evening take
  permanent_tension,  ///< the permanent stress at the centre
};

/// Nodes from centre to surface unless told otherwise. A slab's cells are of fourth order in the
/// spacing where it is cooled from both faces alike, a rod's and ball's of second.
inline constexpr int nodes_of_half_a_slab = 11;
inline constexpr int nodes_of_other_solids = 21;

struct SimulationSettings {
  double tolerance_K = 0.02;   ///< of the time steps; see conduction::SolveSettings
  std::optional<int> nodes{};  ///< other than the numbers above
  stress::RelaxationSettings relaxation{};
  std::optional<Bulk> bulk{};  ///< other than the glass's own treatment
};

/// Temperatures, structure and stress of a casting whose kiln follows a curve.
///
/// Slab, rod and ball are solved as they are, other shapes as their equivalent slab with the
/// exchange scaled to the shape's own volume over surface. The glass is at `start` throughout at
/// first. Throws: Error when the input is beyond what can be computed.
History simulate(const Casting& casting,
                 const Kiln& kiln,
                 const AirCurve& air,
                 Temperature start,
                 Respect respect,
                 const SimulationSettings& settings = {});

}  // namespace thickset

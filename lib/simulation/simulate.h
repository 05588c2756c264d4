#pragma once

#include "kiln/follow.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"
#include "simulation/history.h"
#include "simulation/solid_model.h"
#include "stress/relaxing_body.h"
#include "units/temperature.h"

#include <optional>

namespace thickset {

struct SimulationSettings {
  double tolerance_K = 0.02;   ///< of the time steps; see conduction::SolveSettings
  std::optional<int> nodes{};  ///< other than the numbers above
  stress::RelaxationSettings relaxation{};
  std::optional<Bulk> bulk{};  ///< other than the glass's own treatment
};

/// Temperatures, structure and stress of a casting whose kiln follows a curve.
///
/// Slab, rod and ball are solved as they are, other shapes as their equivalent slab with the
/// exchange scaled to the shape's own volume over surface. Glass and walls are at `start`
/// throughout at first, free of stress and in equilibrium; glass that starts below its strain point
/// was frozen there. Throws: Error when the input is beyond what can be computed.
History simulate(const Casting& casting,
                 const Kiln& kiln,
                 const AirCurve& air,
                 Temperature start,
                 Respect respect,
                 const SimulationSettings& settings = {});

}  // namespace thickset

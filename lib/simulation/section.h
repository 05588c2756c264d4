#pragma once

#include "kiln/follow.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"
#include "simulation/solid_model.h"
#include "units/temperature.h"

#include <vector>

namespace thickset {

/// Temperatures through the glass at one moment.
struct Section {
  double time_s;  ///< at the end of a time step
  /// From the middle to the surface; where the faces of a slab differ, through all of it, from the
  /// one that cools worse. Of the body that stands for the casting.
  std::vector<double> position_m, T_K;
};

/// Whether a casting is simulated from its middle to its surface, both sides being alike.
bool both_sides_alike(const Casting& casting, const Kiln& kiln);

/// The temperatures of `simulate` at the first time step that ends at or after a time; the last one
/// where there is none.
///
/// Throws: Error when the input is beyond what can be computed.
Section section_at(const Casting& casting,
                   const Kiln& kiln,
                   const AirCurve& air,
                   Temperature start,
                   Respect respect,
                   double time_s);

}  // namespace thickset

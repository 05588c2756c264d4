#pragma once

#include "glass/glass.h"
#include "units/temperature.h"

namespace thickset {

/// A glass whose fixed points all lie so much higher, its strain point that much more. How fast it
/// relaxes goes with them: the time at the annealing point stays, the activation changes as that
/// between the two points does.
Glass with_points_moved(const Glass& glass,
                        TemperatureDifference all,
                        TemperatureDifference strain_point);

}  // namespace thickset

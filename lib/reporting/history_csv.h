#pragma once

#include "checking/measure.h"

#include <string>

namespace thickset {

/// What the glass went through, a row for each time step: hours, temperatures of kiln, surface,
/// centre and mean in C, difference in K, surface, centre and largest stress in MPa, fictive
/// temperatures in C.
std::string trace_csv(const History& history);

/// Stress and fictive temperature through the thickness at the end, from the inside out.
std::string profile_csv(const History::Profile& profile);

}  // namespace thickset

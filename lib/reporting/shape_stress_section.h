#pragma once

#include "reporting/report.h"

#include <string>

/// What the stress of a shape that is simulated as a slab rests on; empty for slabs, rods and
/// balls.
namespace thickset {

/// One line beside the largest tension: what its faces count over the slab's.
std::string surface_factor_line(const Casting& casting);

/// With the explanations: why they count so much. Begins with an empty line.
std::string shape_stress_section(const ReportContext& context);

}  // namespace thickset

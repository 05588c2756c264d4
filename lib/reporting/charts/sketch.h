#pragma once

#include <string>

#include "reporting/charts/cell_plot.h"
#include "reporting/charts/firing_view.h"

namespace thickset {

/// A firing in character cells: kiln, surface and core against time, and where there is room the
/// largest tension in the glass against its limit; the same numbers as temperature_chart and the
/// upper half of stress_chart. At most style.columns wide, of which it needs 40.
std::string sketch(const FiringView& view, const SketchStyle& style);

}  // namespace thickset

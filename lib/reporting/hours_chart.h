#pragma once

#include <span>

#include "planning/thickness_table.h"
#include "reporting/charts/drawing.h"
#include "reporting/report.h"

namespace thickset {

/// When each part of the firing is over, in hours since its start (a logarithmic scale), against
/// thickness; a dot for each row that has a plan.
/// says_glass: its title stands in the picture; false where it stands beside it.
Chart hours_chart(const ReportContext& context,
                  std::span<const ThicknessRow> rows,
                  bool says_glass = true);

}  // namespace thickset

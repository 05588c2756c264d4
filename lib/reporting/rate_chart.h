#pragma once

#include <string>

#include "planning/tail.h"
#include "reporting/charts/drawing.h"
#include "reporting/report.h"

namespace thickset {

/// The cool-down's rate against temperature: the many-banded one, the stages found and the steps as
/// keyed, with the glass's annealing and strain point.
///
/// In: a tail that was planned; one that cannot keep the limits has no stages found, and the
///     picture then leaves them out.
Chart rate_chart(const ReportContext& context, const Tail& tail);

}  // namespace thickset

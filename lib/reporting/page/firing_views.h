#pragma once

#include "reporting/charts/firing_view.h"
#include "reporting/log_report.h"
#include "reporting/now_report.h"
#include "reporting/page/assembly.h"

namespace thickset {

// What pages and sketches show of each kind of firing.

/// The keyed steps of a tail, each with the stage that it belongs to.
KeyedRows keyed_rows(const ReportContext& context, const Tail& tail);

/// The controller that a checked program is shown for; nullptr where it is shown as it is written.
const Controller* shown_for(const ReportContext& context,
                            const Program& program,
                            bool for_controller);

/// Of a program, until it and the wait for opening are over. `result` has to outlive it, as in the
/// others.
FiringView view_of(const ReportContext& context, const CheckResult& result, const KeyedRows& keyed);

/// Of a log, to its end at least.
FiringView view_of(const ReportContext& context, const LogCheck& check);

/// The way advised, as what a check of it would be.
CheckResult of_way(const ReportContext& context, const Now& now);

/// Of a firing that is under way, with the way advised as of_way gives it.
FiringView view_of(const ReportContext& context, const Now& now, const CheckResult& way);

}  // namespace thickset

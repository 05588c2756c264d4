#pragma once

#include <string>

#include "planning/reanneal.h"
#include "reporting/charts/cell_plot.h"
#include "reporting/log_report.h"
#include "reporting/now_report.h"
#include "reporting/report.h"

namespace thickset {

// Each kind of firing drawn in character cells (charts/sketch.h), for below its report.

std::string tail_sketch(const ReportContext& context, const Tail& tail, const SketchStyle& style);

/// for_controller: steps are numbered as context.controller counts them, where it takes the
/// program's notation.
std::string check_sketch(const ReportContext& context,
                         const Program& program,
                         const CheckResult& result,
                         bool for_controller,
                         const SketchStyle& style);
std::string log_sketch(const ReportContext& context,
                       const LogCheck& check,
                       const SketchStyle& style);

/// whole: heating, hold and tail checked as one program from the room on.
std::string rewarm_sketch(const ReportContext& context,
                          const Reanneal& plan,
                          const CheckResult& whole,
                          const SketchStyle& style);

/// What has been and the way advised. Only where the past is known.
std::string now_sketch(const ReportContext& context, const Now& now, const SketchStyle& style);

}  // namespace thickset

#pragma once

#include "planning/reanneal.h"
#include "reporting/report.h"

namespace thickset {

/// Its first lines: what to do.
std::string rewarm_to_do(const ReportContext& context, const Reanneal& plan);

/// The heating, then the hold and tail as tail_text has them. `context` is the tail's, reheated.
/// whole: heating, hold and tail checked as one program from the room on.
std::string rewarm_text(const ReportContext& context,
                        const Reanneal& plan,
                        const CheckResult& whole);

/// The whole program, from the room to the room.
std::string rewarm_csv(const ReportContext& context, const Reanneal& plan);

std::string rewarm_keys(const ReportContext& context, const Reanneal& plan);

}  // namespace thickset

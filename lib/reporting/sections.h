#pragma once

#include "reporting/report.h"

#include <string>

/// The parts that reports share, each ending in a line break.
namespace thickset {

/// "35 °C on this kiln", the last target; where the kiln is not there when the program ends, "148
/// °C on this kiln, not yet 35 °C".
std::string kiln_at_end(const CheckResult& result, const Program& program, const Display& display);

/// "for block 75 x 75 x 150 mm, casting soda-lime ...; kiln ...; controller ...".
std::string made_for(const ReportContext& context);

/// Each limit with where it came from, and what no limit covers.
std::string limits_section(const Limits& limits);

/// Permanent stress and largest tension: simulated value, limit, and the closed form beside it.
std::string stress_section(const ReportContext& context, const CheckResult& result);

/// What each treatment of the bulk would leave, and the structural share.
std::string treatments_section(const ReportContext& context, const Treatments& treatments);

/// The three slabs that stand for the shape, and what each is used for.
std::string equivalents_section(const ReportContext& context);

/// Everything that was not given: glass, kiln and the program's own defaults.
std::string assumptions_section(const ReportContext& context);

/// Where several steps or stretches are to be slowed: that each was looked at alone. Else nothing.
std::string rates_looked_for_alone(const CheckResult& result);

/// "within" or "over".
const char* word(Verdict verdict);

}  // namespace thickset

#pragma once

#include "reporting/report.h"

#include <string>
#include <vector>

/// What lies against the glass, in reports. Each gives nothing where the casting is bare.
namespace thickset {

/// "; plaster-silica 25 mm on both faces", to go with the shape.
std::string with_walls(const Casting& casting, Lengths unit);

/// How far the glass is behind the kiln, what the hold owes to the walls, what unlike faces do, and
/// what half and double an assumed conductivity would change.
/// In: needed, where a hold was sized: what it needs.
std::string walls_section(const ReportContext& context, std::optional<Duration> needed);

/// Where the glass is when the steps below the hold end.
std::string glass_at_step_ends(const ReportContext& context, const CheckResult& result);

/// What the walls' materials rest on, a line each, and what is not computed of them.
std::vector<std::string> walls_assumed(const ReportContext& context);

/// Stable names, listed in notes/data_formats.md.
std::string hold_walls_keys(const ReportContext& context, Duration needed);
std::string check_walls_keys(const ReportContext& context);

}  // namespace thickset

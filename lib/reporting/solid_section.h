#pragma once

#include "reporting/report.h"

#include <string>

/// What is known of a casting whose slabs come from a grid, in reports. Each gives nothing for
/// another casting.
namespace thickset {

/// Glass to weigh out, the largest ball and where it sits, what the slabs that stand for it rest
/// on, what the ends of a wedge do, and where thick meets thin.
std::string solid_section(const ReportContext& context);

/// Stable names, listed in notes/data_formats.md.
std::string solid_keys(const Casting& casting);

}  // namespace thickset

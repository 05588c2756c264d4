#pragma once

#include "reporting/report.h"

#include <string>

/// How far a slab that is free to bend bows; empty for all others.
namespace thickset {

/// Begins with an empty line.
std::string bow_section(const ReportContext& context, const CheckResult& result);
std::string bow_keys(const ReportContext& context, const CheckResult& result);

}  // namespace thickset

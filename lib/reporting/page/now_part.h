#pragma once

#include <string>

#include "reporting/now_report.h"

namespace thickset {

/// The glass inside, the ways on and opening as tables, and what is said of them: HTML. The numbers
/// are those of the text report.
std::string now_html(const ReportContext& context, const Now& now);

}  // namespace thickset

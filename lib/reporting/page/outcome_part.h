#pragma once

#include <string>

#include "reporting/report.h"

namespace thickset {

/// What the firing leaves and pulls against its limits, and when it may be opened: HTML. The
/// numbers are those of the text report.
std::string outcome_html(const ReportContext& context, const CheckResult& result);

/// The cautions, whole: HTML.
std::string cautions_html();

}  // namespace thickset

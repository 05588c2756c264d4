#pragma once

#include "checking/check_log.h"
#include "reporting/report.h"
#include "schedule/firing_log.h"

#include <string>

namespace thickset {

/// A real firing, for a person: the verdict, what was wrong with the log, what each stretch did to
/// the glass, and beside it the plan where there is one. UTF-8, at most 80 columns.
std::string log_text(const ReportContext& context, const FiringLog& log, const LogCheck& check);

/// Its first lines: what was found.
std::string log_to_do(const ReportContext& context, const LogCheck& check);

/// A row for each stretch.
std::string log_csv(const ReportContext& context, const LogCheck& check);

/// "name_unit = value" lines: those of a checked program, and the log's own.
std::string log_keys(const FiringLog& log, const LogCheck& check);

}  // namespace thickset

#pragma once

#include <string>

#include "options.h"
#include "reporting/report.h"
#include "sampling/how_sure.h"

namespace thickset::cli {

/// How many castings the short lines of reports rest on: a chance of 90 of 100 is then known to
/// about 3, which ranks what matters and costs a tail a tenth of a second.
inline constexpr std::uint64_t samples_of_short_lines = 128;

/// What is fired and how, in a line: shape, walls, glass, program or log, kiln.
std::string study_title(const Casting& casting,
                        const Kiln& kiln,
                        const std::string& course,
                        Lengths lengths);

/// The short study of a report, unless --confidence off. casting: usually the report's own; course:
/// what `result` was measured on, and its name for people; begins_cold: of a log.
void add_how_sure(const Options& options,
                  const Casting& casting,
                  const CheckResult& result,
                  const KilnCourse& course,
                  const std::string& name,
                  ReportContext& context,
                  bool begins_cold = false);

}  // namespace thickset::cli

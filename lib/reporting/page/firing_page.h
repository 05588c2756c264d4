#pragma once

#include <optional>
#include <string>

#include "planning/reanneal.h"
#include "reporting/log_report.h"
#include "reporting/now_report.h"
#include "reporting/report.h"
#include "reporting/rewarm_report.h"

namespace thickset {

/// A firing on one page that needs nothing else: no network, no script. HTML for screens, one or
/// two sheets of A4 or Letter in print.

/// What a page is told besides what its report is.
struct PageRequest {
  std::optional<Length> path{};  ///< glass that the light passes, for the view between polarisers
  bool for_controller = false;   ///< the steps of a checked program are shown as it asks for them
};

std::string tail_page(const ReportContext& context, const Tail& tail, const PageRequest& request);
std::string check_page(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result,
                       const PageRequest& request);
std::string log_page(const ReportContext& context,
                     const FiringLog& log,
                     const LogCheck& check,
                     const PageRequest& request);

/// Only where the past is known. context.start: when the firing began, where that is known.
std::string now_page(const ReportContext& context, const Now& now, const PageRequest& request);

/// whole: heating, hold and tail checked as one program from the room on.
std::string rewarm_page(const ReportContext& context,
                        const Reanneal& plan,
                        const CheckResult& whole,
                        const PageRequest& request);

/// A single chart, as a file of its own.
enum class ChartKind { temperature, stress, section, edge, rates };

/// Throws: Error where the firing has no such chart.
std::string tail_chart(const ReportContext& context,
                       const Tail& tail,
                       ChartKind kind,
                       const PageRequest& request);
std::string check_chart(const ReportContext& context,
                        const Program& program,
                        const CheckResult& result,
                        ChartKind kind,
                        const PageRequest& request);
std::string log_chart(const ReportContext& context,
                      const LogCheck& check,
                      ChartKind kind,
                      const PageRequest& request);

}  // namespace thickset

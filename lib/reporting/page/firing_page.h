#pragma once

#include <optional>
#include <string>

#include "reporting/log_report.h"
#include "reporting/report.h"

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

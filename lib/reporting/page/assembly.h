#pragma once

#include <optional>
#include <string>
#include <vector>

#include "checking/check.h"
#include "reporting/charts/firing_view.h"
#include "reporting/keying.h"
#include "reporting/page/firing_page.h"
#include "reporting/report.h"

/// How every firing page is put together.
namespace thickset {

/// Steps as they are keyed, and when each begins.
struct KeyedRows {
  KeyedSteps steps;
  std::vector<std::optional<double>> begin_s;
};
KeyedRows keyed_rows(const Controller* controller,
                     const Program& program,
                     int heat_up_steps,
                     const CheckResult& result);

/// Every chart, in HTML. start: of the glass.
std::string charts_html(const FiringView& view, Temperature start, const PageRequest& request);

/// One chart as a file. Throws: Error where the firing has none of this kind.
std::string chart_file(const FiringView& view,
                       Temperature start,
                       ChartKind kind,
                       const PageRequest& request);

/// The two lines that every card has: HTML.
std::string card_html();

std::string notes_html(const std::vector<std::string>& notes);

/// The parts in their order. steps, charts, notes: HTML; to_do: a report's text.
std::string assembled(const ReportContext& context,
                      const CheckResult& result,
                      const std::string& to_do,
                      const std::string& steps,
                      const std::string& charts,
                      const std::string& notes);

}  // namespace thickset

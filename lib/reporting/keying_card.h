#pragma once

#include "reporting/keying.h"
#include "reporting/now_report.h"
#include "reporting/report.h"
#include "reporting/rewarm_report.h"

#include <string>
#include <vector>

namespace thickset {

/// What is taped to the kiln: the steps to key and no more, narrow enough for a till roll or a
/// hand.
inline constexpr std::size_t card_columns = 40;

struct KeyingCard {
  std::string casting;
  std::vector<std::string> before;  ///< what to know before keying: over a limit, how it is set
  std::string start;                ///< where the controller begins, as keyed_start says it
  KeyedSteps steps;
  std::string end;                 ///< as keyed_end says it; empty: not for a known controller
  std::vector<std::string> times;  ///< total, end, opening
};

/// The card as text: at most card_columns wide whatever the names in it, a place for the date, the
/// steps as the reports have them, two lines of caution.
std::string card_text(const KeyingCard& card);

std::string tail_card(const ReportContext& context, const Tail& tail);

/// for_controller: the steps are shown as context.controller asks for them, where it takes the
/// program's notation; else as the program is written.
std::string check_card(const ReportContext& context,
                       const Program& program,
                       const CheckResult& result,
                       bool for_controller);

/// whole: heating, hold and tail checked as one program from the room on.
std::string rewarm_card(const ReportContext& context,
                        const Reanneal& plan,
                        const CheckResult& whole);

/// From now on, by the way that is advised. Only where the past is known.
std::string now_card(const ReportContext& context, const Now& now);

}  // namespace thickset

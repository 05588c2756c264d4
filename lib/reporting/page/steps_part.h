#pragma once

#include <optional>
#include <string>
#include <vector>

#include "reporting/charts/firing_view.h"
#include "reporting/keying.h"

namespace thickset {

/// When the row of each keyed step begins, as computed; nothing where the program is broken off
/// before it.
std::vector<std::optional<double>> begins_s(const KeyedSteps& steps,
                                            const Program& program,
                                            const Measured& measured);

/// Their numbers and beginnings, for the charts.
std::vector<FiringView::Start> starts_of(const KeyedSteps& steps,
                                         const std::vector<std::optional<double>>& begin_s);

/// The steps as they are keyed, each with a box to tick, when it begins as computed, and room for
/// the clock and the reading: HTML.
/// start: on the wall clock, where it is known.
std::string steps_html(const KeyedSteps& steps,
                       const std::vector<std::optional<double>>& begin_s,
                       const std::optional<Clock>& start,
                       const std::string& caption);

}  // namespace thickset

#pragma once

#include "schedule/firing_log.h"

#include <optional>
#include <string>

namespace thickset {

/// A moment of a log as a person would say it: "Sat 2026-11-28 09:40", "day 2 09:40" where the
/// date is not known, "3 h 20 min" where only time since the start is. The clock is that of the
/// first reading throughout.
std::string moment(const std::optional<LogClock>& clock, double time_s);

/// The same without the date: "Sat 09:40", "day 2 09:40".
std::string short_moment(const std::optional<LogClock>& clock, double time_s);

/// Two short moments: "Sat 09:40 to 11:05", "Sat 22:10 to Sun 06:00".
std::string span_of_time(const std::optional<LogClock>& clock, double from_s, double to_s);

}  // namespace thickset

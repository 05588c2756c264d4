#pragma once

#include "base/place.h"
#include "reporting/display.h"
#include "reporting/waking_start.h"

#include <string_view>

namespace thickset::cli {

/// "2026-11-27 18:00" or "2026-11-27T18:00" (ISO 8601, local time).
/// Throws: Error for any other form, a day that does not exist, a year outside 2000 to 2100.
Clock read_clock(std::string_view text, const Place& place);

/// "07:00-23:00", or past midnight "09:00-01:00".
/// Throws: Error for any other form, and for hours of no length.
WakingHours read_waking_hours(std::string_view text, const Place& place);

}  // namespace thickset::cli

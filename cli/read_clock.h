#pragma once

#include "base/place.h"
#include "reporting/display.h"

#include <string_view>

namespace thickset::cli {

/// "2026-11-27 18:00" or "2026-11-27T18:00" (ISO 8601, local time).
/// Throws: Error for any other form, a day that does not exist, a year outside 2000 to 2100.
Clock read_clock(std::string_view text, const Place& place);

}  // namespace thickset::cli

#pragma once

#include <limits>

namespace thickset {

inline constexpr double hour_s = 3600.0;
inline constexpr double day_s = 24.0 * hour_s;
/// A reading that is not there.
inline constexpr double no_reading = std::numeric_limits<double>::quiet_NaN();

}  // namespace thickset

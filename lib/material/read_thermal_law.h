#pragma once

#include "base/entries.h"
#include "material/thermal_law.h"

#include <span>
#include <string>

namespace thickset {

/// What a ThermalLaw in a file is a law of; settles the units that are known.
enum class ThermalQuantity { conductivity, heat_capacity };

/// Lowest and highest value a material may have, in SI units; `low` is positive.
struct ThermalLimits {
  double low;
  double high;
};

/// A conductivity or heat capacity from the lines of one key. Three forms:
///
///   constant  1.0 W/(m K)
///   law       893 + 0.4 T - 1.8e7 / T^2 J/(kg K) for 150..850 K
///   table     table 20 C 1.05, 516 C 1.40 W/(m K)
///
/// In a law T is in kelvin whatever the unit of the range; a constant with a range is a law.
/// Several lines are the pieces of one law, in rising order and meeting end to end; constants and
/// tables stand alone. A table is joined by straight lines.
///
/// In:     lines, at least one, all of the same key.
/// Throws: Error with every line that is malformed, and where a value is not positive, not finite
/// or
///         outside `limits` anywhere in its range (the message names the temperature).
ThermalLaw read_thermal_law(std::span<const Entry> lines,
                            ThermalQuantity quantity,
                            const ThermalLimits& limits);

/// The law as read_thermal_law reads it, six digits; pieces parted by ", then ".
std::string thermal_law_text(const ThermalLaw& law, ThermalQuantity quantity);

}  // namespace thickset

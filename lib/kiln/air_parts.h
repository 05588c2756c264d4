#pragma once

#include "kiln/follow.h"

namespace thickset {

/// A kiln's curve until then; held where it ends before.
AirCurve cut_at(const AirCurve& air, double time_s);

/// Adds the kiln's own fall to a temperature, in taking_s instead of its own time.
void add_own_fall(AirCurve& air, Temperature to, double taking_s, const Kiln& kiln);

}  // namespace thickset

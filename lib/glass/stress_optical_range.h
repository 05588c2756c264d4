#pragma once

#include "glass/glass.h"

namespace thickset {

/// The stress-optical coefficients that a glass may have.
struct StressOpticalRange {
  double low_per_Pa;
  double value_per_Pa;
  double high_per_Pa;
  bool assumed;
};

/// A coefficient that a file gives is taken as good to 5 %, as those given for one kind of glass
/// differ. One that stands in has the range of the glass's family: soda-lime 2.5 to 2.8, lead (up
/// to some 35 % of lead oxide) 2.6 to 3.1, barium 2.3 to 3.0, borosilicate 2.7 to 4.1 1/TPa; of a
/// glass of unknown family 2.3 to 4.1.
///
/// Source: [ISO3585] for the 4.0 of borosilicate 3.3; the rest from memory, not confirmed.
StressOpticalRange stress_optical_range(const Glass& glass);

/// The range for glass of which nothing is known.
StressOpticalRange unknown_stress_optical_range();

}  // namespace thickset

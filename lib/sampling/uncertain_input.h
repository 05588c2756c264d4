#pragma once

#include "glass/moved_points.h"
#include "kiln/follow.h"
#include "kiln/kiln.h"
#include "sampling/uncertain_value.h"
#include "simulation/casting.h"

#include <span>
#include <string>
#include <vector>

/// What of a firing is known only within a range, and firings drawn from those ranges.
namespace thickset {

/// One input: any value between its two ends is as likely as any other, since no more than the ends
/// is known of it ([JCGM100] 4.3.7).
struct UncertainInput {
  UncertainValue what;
  double half_width;     ///< a share, or kelvin; of sensor and mould 1: their range varies
  std::string range;     ///< "+-5 %"
  std::string from;      ///< where that comes from: "assumed", "the casting's file"
  bool assumed = false;  ///< neither a file nor a standard says so
};

/// The inputs of one casting in one kiln, in an order that never changes; the mould's last, where
/// layers of a material lie against the glass.
std::vector<UncertainInput> uncertain_inputs(const Casting& casting, const Kiln& kiln);

/// A casting and its kiln as they may be: each input so far off, as a share of its range from -1 to
/// 1. All at 0: as they are given.
struct DrawnFiring {
  Casting casting;
  Kiln kiln;
  double sensor_off = 0.0;  ///< as a share of the tolerance; above 0 the kiln is hotter than shown

  /// What the kiln really had where it showed this. The error grows with the reading, as the
  /// tolerance does.
  Temperature true_of(Temperature shown) const;
  AirCurve true_of(AirCurve shown) const;
};
DrawnFiring drawn(const Casting& casting,
                  const Kiln& kiln,
                  std::span<const UncertainInput> inputs,
                  std::span<const double> off);

}  // namespace thickset

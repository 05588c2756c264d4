#pragma once

#include "units/duration.h"
#include "units/rate.h"
#include "units/temperature.h"

#include <span>
#include <vector>

namespace thickset {

/// How fast a closed kiln falls by itself with the elements off: a rate for each temperature.
///
/// Straight lines between the points; above the highest point the rate grows, and below the lowest
/// it shrinks, in proportion to the difference from the room (Newton cooling). One time constant is
/// a poor description of a real kiln, which gives heat back late; a table from its own log is
/// better.
class NaturalCooling {
 public:
  struct Point {
    Temperature temperature;
    Rate rate;  ///< of falling, positive
  };

  /// Points in falling or rising order, at least one, all above the room; asserted.
  NaturalCooling(std::vector<Point> points, Temperature room);

  Rate rate_at(Temperature temperature) const;

  /// Time to fall from one temperature to a lower one; infinite at or below the room.
  Duration time_to_fall(Temperature from, Temperature to) const;

  /// Temperature after falling for this long.
  Temperature after(Temperature from, Duration elapsed) const;

  Temperature room() const { return room_; }

  /// The same kiln in a room of another temperature: rates scaled with the difference from the
  /// room.
  NaturalCooling in_room(Temperature room) const;

  std::span<const Point> points() const { return points_; }

 private:
  std::vector<Point> points_;  ///< rising temperature
  Temperature room_;
};

}  // namespace thickset

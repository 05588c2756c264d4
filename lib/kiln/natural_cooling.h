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

  /// Points in any order, at least one, at different temperatures, all above the room; asserted.
  NaturalCooling(std::vector<Point> points, Temperature room);

  Rate rate_at(Temperature temperature) const;

  /// Time to fall from one temperature to a lower one; infinite at or below the room.
  Duration time_to_fall(Temperature from, Temperature to) const;

  /// Temperature after falling for this long.
  Temperature after(Temperature from, Duration elapsed) const;

  /// The lowest temperature down to which a straight line from here follows the fall this closely;
  /// the room where the kiln is already this close to it.
  Temperature straight_down_to(Temperature from, TemperatureDifference within) const;

  /// The highest temperature, from here down, below which the kiln falls slower than this rate;
  /// `from` itself where it does so at once, the room where it never does before.
  Temperature slower_than(Rate rate, Temperature from) const;

  Temperature room() const { return room_; }

  /// The same kiln in a room of another temperature: rates scaled with the difference from the
  /// room. Points not above the new room are left out; at least one must remain, asserted.
  NaturalCooling in_room(Temperature room) const;

  std::span<const Point> points() const { return points_; }

 private:
  /// The rate as a straight line of temperature on the piece that holds what is just below T_K.
  struct Piece {
    double bottom_K;
    double rate_K_per_s;  ///< at T_K
    double slope_per_s;   ///< of the rate against temperature
  };
  Piece piece_below(double T_K) const;

  std::vector<Point> points_;  ///< rising temperature
  Temperature room_;
};

}  // namespace thickset

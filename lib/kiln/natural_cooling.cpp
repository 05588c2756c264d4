#include "kiln/natural_cooling.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>

namespace thickset {

namespace {

/// Time to fall by dT_K while the rate goes in a straight line from r1 to r2: the integral of dT/r,
/// ln(r1/r2)/(r1 - r2) times dT_K, written so that equal rates lose no digits.
double fall_time_s(double dT_K, double r1_K_per_s, double r2_K_per_s) {
  const double x = (r1_K_per_s - r2_K_per_s) / r2_K_per_s;
  return dT_K / r2_K_per_s * (x == 0.0 ? 1.0 : std::log1p(x) / x);
}

/// How far the kiln falls in a time, from a rate that is a straight line of temperature.
double fall_K(double rate_K_per_s, double slope_per_s, double time_s) {
  const double x = slope_per_s * time_s;
  return rate_K_per_s * time_s * (x == 0.0 ? 1.0 : -std::expm1(-x) / x);
}

}  // namespace

NaturalCooling::NaturalCooling(std::vector<Point> points, Temperature room)
    : points_{std::move(points)}, room_{room} {
  std::sort(points_.begin(), points_.end(), [](const Point& a, const Point& b) {
    return a.temperature < b.temperature;
  });
  assert(!points_.empty());
  assert(points_.front().temperature > room_);
  assert(std::all_of(points_.begin(), points_.end(), [](const Point& point) {
    return point.rate.in_K_per_s() > 0.0;
  }));
  assert(std::adjacent_find(points_.begin(), points_.end(), [](const Point& a, const Point& b) {
           return a.temperature == b.temperature;
         }) == points_.end());
}

NaturalCooling::Piece NaturalCooling::piece_below(double T_K) const {
  const double room_K = room_.in_K();
  const auto newton = [&](const Point& point, double bottom_K) {
    const double slope = point.rate.in_K_per_s() / (point.temperature.in_K() - room_K);
    return Piece{bottom_K, slope * std::max(0.0, T_K - room_K), slope};
  };
  // The first point at or above T_K: the piece hangs below it.
  const auto above =
      std::lower_bound(points_.begin(), points_.end(), T_K, [](const Point& point, double t_K) {
        return point.temperature.in_K() < t_K;
      });
  if (above == points_.begin()) return newton(points_.front(), room_K);
  const Point& below = *(above - 1);
  if (above == points_.end()) return newton(below, below.temperature.in_K());
  const double bottom_K = below.temperature.in_K();
  const double slope =
      (above->rate.in_K_per_s() - below.rate.in_K_per_s()) / (above->temperature.in_K() - bottom_K);
  return {bottom_K, below.rate.in_K_per_s() + slope * (T_K - bottom_K), slope};
}

Rate NaturalCooling::rate_at(Temperature temperature) const {
  if (temperature <= room_) return Rate::from_K_per_s(0.0);
  return Rate::from_K_per_s(piece_below(temperature.in_K()).rate_K_per_s);
}

Duration NaturalCooling::time_to_fall(Temperature from, Temperature to) const {
  if (from <= to) return seconds(0.0);
  if (to <= room_) return seconds(std::numeric_limits<double>::infinity());
  double time_s = 0.0;
  double T_K = from.in_K();
  while (T_K > to.in_K()) {
    const Piece piece = piece_below(T_K);
    const double end_K = std::max(piece.bottom_K, to.in_K());
    const double end_rate = piece.rate_K_per_s - piece.slope_per_s * (T_K - end_K);
    time_s += fall_time_s(T_K - end_K, piece.rate_K_per_s, end_rate);
    T_K = end_K;
  }
  return seconds(time_s);
}

Temperature NaturalCooling::after(Temperature from, Duration elapsed) const {
  double left_s = in_s(elapsed);
  double T_K = from.in_K();
  while (T_K > room_.in_K() && left_s > 0.0) {
    const Piece piece = piece_below(T_K);
    if (piece.bottom_K > room_.in_K()) {
      const double end_rate = piece.rate_K_per_s - piece.slope_per_s * (T_K - piece.bottom_K);
      const double time_s = fall_time_s(T_K - piece.bottom_K, piece.rate_K_per_s, end_rate);
      if (time_s <= left_s) {
        left_s -= time_s;
        T_K = piece.bottom_K;
        continue;
      }
    }
    const double end_K = T_K - fall_K(piece.rate_K_per_s, piece.slope_per_s, left_s);
    return Temperature::from_K(std::max(end_K, piece.bottom_K));
  }
  return Temperature::from_K(T_K);
}

Temperature NaturalCooling::straight_down_to(Temperature from, TemperatureDifference within) const {
  // A chord of a curve leaves it by at most curvature * time^2 / 8. The curvature is slope * rate;
  // where the rate grows on the way down, it is a little larger at the end, hence the margin.
  constexpr double margin = 0.8;
  const double room_K = room_.in_K();
  if (from.in_K() - room_K <= within.in_K()) return room_;
  const Piece piece = piece_below(from.in_K());
  const double steepness = std::abs(piece.slope_per_s);
  if (steepness == 0.0) return Temperature::from_K(piece.bottom_K);
  const double time_s = std::min(
      std::sqrt(8.0 * margin * within.in_K() / (steepness * piece.rate_K_per_s)), 0.5 / steepness);
  const double dT_K = fall_K(piece.rate_K_per_s, piece.slope_per_s, time_s);
  return Temperature::from_K(std::max(piece.bottom_K, from.in_K() - dT_K));
}

Temperature NaturalCooling::slower_than(Rate rate, Temperature from) const {
  double T_K = from.in_K();
  while (T_K > room_.in_K()) {
    const Piece piece = piece_below(T_K);
    const double excess = piece.rate_K_per_s - rate.in_K_per_s();
    if (excess < 0.0 || (excess == 0.0 && piece.slope_per_s > 0.0)) return Temperature::from_K(T_K);
    const double bottom_excess = excess - piece.slope_per_s * (T_K - piece.bottom_K);
    if (bottom_excess < 0.0) return Temperature::from_K(T_K - excess / piece.slope_per_s);
    T_K = piece.bottom_K;
  }
  return room_;
}

NaturalCooling NaturalCooling::in_room(Temperature room) const {
  std::vector<Point> points;
  for (const Point& point : points_) {
    if (point.temperature <= room) continue;
    const double scale = (point.temperature - room).in_K() / (point.temperature - room_).in_K();
    points.push_back({point.temperature, Rate::from_K_per_s(point.rate.in_K_per_s() * scale)});
  }
  return NaturalCooling{std::move(points), room};
}

}  // namespace thickset

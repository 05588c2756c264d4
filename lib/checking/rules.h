#pragma once

#include <algorithm>

#include "geometry/shape.h"
#include "glass/glass.h"
#include "kiln/kiln.h"
#include "simulation/steady_cooling.h"
#include "units/duration.h"
#include "units/temperature.h"

#include <algorithm>
#include <variant>

/// Rules of the trade and bounds of our own that checking notes and planning keeps.
namespace thickset::rules {

/// A hold stays this far above the strain point, or as far as that is uncertain, and the sensor's
/// tolerance more: our own margin.
inline constexpr auto hold_above_strain = TemperatureDifference::from_K(10.0);

/// As far as the points are uncertain, but not so far that it leaves no room below the annealing
/// point.
inline TemperatureDifference margin_above_strain(const Glass& glass, const Kiln& kiln) {
  const Temperature strain = glass.strain_point.value;
  const TemperatureDifference room =
      glass.annealing_point.value - (strain + sensor_tolerance(kiln, strain));
  return std::max(hold_above_strain, std::min(glass.annealing_point_uncertainty.value, room));
}

inline Temperature hold_floor(const Glass& glass, const Kiln& kiln) {
  const Temperature strain = glass.strain_point.value;
  return strain + margin_above_strain(glass, kiln) + sensor_tolerance(kiln, strain);
}

/// Hotter holds risk sagging: common practice, no source.
inline constexpr auto hold_above_annealing = TemperatureDifference::from_K(40.0);

/// A last target nearer the room is never reached in summer: common practice, no source.
inline constexpr auto last_target_above_room = TemperatureDifference::from_K(15.0);

/// Long enough for a casting to even out at one temperature: some twelve slowest time constants of
/// a slab as thick as its largest ball, and what the exchange with the kiln takes; of a solid
/// on a grid, of the slab of its slowest mode where that is thicker, as behind walls.
inline Duration time_to_even_out(const Shape& shape) {
  double size_m = largest_ball(shape).in_m();
  if (const auto* solid = std::get_if<Gridded>(&shape)) {
    size_m = std::max(size_m, solid->slowest_mode.in_m());
  }
  return hours(20.0 + 6000.0 * size_m * size_m);
}

/// The same for a casting in its walls: twelve times as long as they hold the glass back, more.
inline Duration time_to_even_out(const Casting& casting) {
  const Duration bare = time_to_even_out(casting.governing_shape());
  if (!casting.walls) return bare;
  constexpr double time_constants = 12.0;
  const SteadyCooling steady = steady_cooling(casting, {}, casting.glass.strain_point.value);
  return bare + seconds(time_constants * steady.behind_kiln_s());
}

}  // namespace thickset::rules

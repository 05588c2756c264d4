#pragma once

#include "geometry/meshed_solid.h"
#include "glass/glass.h"
#include "material/wall.h"
#include "simulation/walls.h"

#include <array>
#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// What lies against chosen sides of a mesh, and against the rest of its surface.
struct SideWalls {
  Wall elsewhere;                              ///< on all of the surface that is on no side named
  std::array<std::optional<Wall>, 6> of_side;  ///< by BoxSide
  bool held = true;  ///< by the mould, so that it cannot bend as it cools unevenly

  bool any_assumed() const;
  SideWalls with_assumed_conductivity_times(double factor) const;
  std::vector<const Wall*> all() const;  ///< that are not open
};

/// What is assumed of them is also tried conducting so many times as well.
inline constexpr std::array<double, 2> side_conductivity_tried = {0.5, 2.0};

/// "plaster-silica 25 mm; top open; held in shape".
std::string describe(const SideWalls& walls, Lengths unit);

/// Of a mesh: nullopt where no side is named.
///
/// In:     insulated, sides without a wall of their own that do not cool.
/// Throws: Error for the first thing that is wrong: layers that read_wall refuses, a side with a
///         wall that is insulated as well, no side open, layers that do not touch without a word on
///         whether the piece may bend.
std::optional<SideWalls> read_side_walls(const WallWords& words,
                                         const std::vector<BoxSide>& insulated,
                                         const ReadNamedMould& read_named_mould);

/// How the surface of the solid cools behind them, for the field: properties at the strain point,
/// each wall plane, in steady cooling, with the exchange of a kiln that is not named.
/// Source: notes/field.md#walls-on-chosen-sides.
SurfaceCooling surface_cooling(const SideWalls& walls, const Glass& glass);

}  // namespace thickset

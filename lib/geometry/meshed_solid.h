#pragma once

#include "base/place.h"
#include "base/progress.h"
#include "geometry/cooled_surface.h"
#include "geometry/gridded_solid.h"
#include "geometry/region.h"
#include "units/length.h"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// A side of the box around a solid, in the axes of its file: left and right along x, front and
/// back along y, bottom and top along z, the first of each where the axis begins.
enum class BoxSide { left, right, front, back, bottom, top };

/// "bottom", "bottom, left". Throws: Error at `place` for an unknown side or one named twice.
std::vector<BoxSide> read_sides(std::string_view text, const Place& place);

/// "left" and so on.
std::string_view name_of(BoxSide side);

/// A part of the surface: how it cools, and what it exchanges with the kiln over a bare one.
struct SideSurface {
  Cooling cooling;
  double exchanges = 1.0;
};

/// How the whole surface cools: sides of the box that are named, and what is on none of them.
struct SurfaceCooling {
  SideSurface elsewhere;
  std::array<std::optional<SideSurface>, 6> of_side{};  ///< by BoxSide
  bool held = false;    ///< in shape, so that it cannot bend as it cools unevenly
  double film_m = 0.0;  ///< conductivity of the glass * the kiln's own resistance at a bare surface

  static SurfaceCooling insulated_at(const std::vector<BoxSide>& sides);
};

/// Reads and checks the file, and works out its temperature field, slowest mode and permanent
/// tension with its surface cooled so. One to three seconds.
///
/// A place of the surface belongs to a side that it faces, within 26 degrees, and lies at, within a
/// hundredth of the box. Held in shape, the permanent tension is at least that of a slab held flat.
/// In:     otherwise, other coolings for which the steady difference alone is wanted, on a coarser
///         grid.
/// Throws: Error, see read_solid and solid_slabs.
/// Source: notes/field.md#walls-on-chosen-sides.
GriddedSolid read_meshed_solid(const std::string& path,
                               Lengths unit,
                               const SurfaceCooling& cooling,
                               const Progress& progress,
                               std::span<const SurfaceCooling> otherwise = {});

}  // namespace thickset

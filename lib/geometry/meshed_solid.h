#pragma once

#include "base/place.h"
#include "base/progress.h"
#include "geometry/gridded_solid.h"
#include "geometry/region.h"
#include "units/length.h"

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

/// Reads and checks the file, and works out its temperature field, slowest mode and permanent
/// tension with these sides insulated. One to three seconds.
///
/// A place of the surface belongs to a side that it faces, within 26 degrees, and lies at, within a
/// hundredth of the box. Throws: Error, see read_solid and solid_slabs.
GriddedSolid read_meshed_solid(const std::string& path,
                               Lengths unit,
                               const std::vector<BoxSide>& insulated,
                               const Progress& progress);

}  // namespace thickset

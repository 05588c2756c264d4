#pragma once

#include "base/progress.h"
#include "geometry/largest_ball_in.h"
#include "geometry/mesh_region.h"
#include "geometry/triangle_mesh.h"
#include "units/length.h"

#include <string>
#include <vector>

namespace thickset {

/// A casting given by its surface.
struct Solid {
  MeshRegion region;
  MeshMeasures measures;
  LargestBall ball;
  std::vector<std::string> notes;  ///< what was mended or is worth knowing; for the user
};

/// Reads an STL file, checks that it bounds one solid, and measures it.
///
/// Throws: Error, what read_stl and check_mesh throw, and where the largest ball is outside
///         thinnest_accepted..thickest_accepted.
Solid read_solid(const std::string& path, Lengths unit, const Progress& progress);

/// The same of triangles that were read; `place` is for messages.
Solid make_solid(const TriangleSoup& soup,
                 Lengths unit,
                 const Place& place,
                 const Progress& progress);

}  // namespace thickset

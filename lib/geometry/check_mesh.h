#pragma once

#include "base/place.h"
#include "base/progress.h"
#include "geometry/mesh_region.h"
#include "geometry/read_stl.h"
#include "units/length.h"

#include <string>
#include <vector>

namespace thickset {

/// A mesh that bounds one solid, and what was mended to make it so.
struct CheckedMesh {
  MeshRegion region;
  std::vector<std::string> notes;  ///< for the user, one line each
};

/// Makes a region of the triangles of a file, or says why they bound none.
///
/// Mended, with a note: open corners within negligible_of_side of each other are joined, triangles
///         without area left out, triangles that face the wrong way turned, a surface that is
///         inside out turned.
/// Throws: one Error, the first of: a size no casting has; an open surface; edges of more than two
///         triangles; a surface of one side; triangles that cross; more than one piece; glass
///         within glass; a surface that encloses nothing, or winds round the glass twice.
///         notes/geometry.md says how each is found.
CheckedMesh check_mesh(const TriangleSoup& soup,
                       Lengths unit,
                       const Place& place,
                       const Progress& progress);

}  // namespace thickset

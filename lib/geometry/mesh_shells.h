#pragma once

#include "base/place.h"
#include "geometry/mesh_edges.h"
#include "geometry/mesh_tree.h"
#include "geometry/triangle_mesh.h"
#include "units/length.h"

#include <string>
#include <vector>

namespace thickset {

/// Turns the shells of a mesh the right way: the outer one with its outer side out, those within it
/// (hollows) with their outer side towards the hollow.
///
/// In:     shells that are oriented each in itself and do not cross; triangles of one shell only
///         are turned, so `tree` stays that of the mesh.
/// Out:    notes, for the user: a shell that was turned, hollows.
/// Throws: Error where there is more than one outer shell (separate pieces: they cool each for
///         itself, and a casting is one), where glass would lie in glass or in a hollow, where a
///         shell encloses nothing.
std::vector<std::string> turn_shells_out(TriangleMesh& mesh,
                                         const MeshTree& tree,
                                         const Shells& shells,
                                         Lengths unit,
                                         const Place& place);

}  // namespace thickset

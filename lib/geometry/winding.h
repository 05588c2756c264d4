#pragma once

#include "geometry/mesh_tree.h"
#include "geometry/triangle_mesh.h"

#include <optional>

#include <Eigen/Core>

namespace thickset {

/// More triangles than this are looked at in even steps.
inline constexpr int most_windings = 250'000;

/// Looks for a triangle that does not part the inside from the outside: on a line through its
/// middle, outer side out, the surface was entered as often as left before, and once more after. So
/// a surface is found that goes through itself at a point, where no two triangles cross.
///
/// In:     a closed mesh, oriented outwards. Other triangles within `near_steps` on the line leave
///         a triangle unjudged: surfaces may touch.
/// Out:    the middle of the first such triangle, in steps.
std::optional<Eigen::Vector3d> find_wrong_winding(const TriangleMesh& mesh,
                                                  const MeshTree& tree,
                                                  double near_steps);

}  // namespace thickset

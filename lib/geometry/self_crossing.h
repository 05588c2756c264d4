#pragma once

#include "geometry/mesh_tree.h"
#include "geometry/triangle_mesh.h"

#include <cstdint>
#include <optional>

#include <Eigen/Core>

namespace thickset {

/// How far a triangle would have to be moved to lie clear of another, 0 where they are apart or
/// only touch. Triangles that share a corner touch there.
///
/// In:     three corners each, in any unit; neither without area.
/// Error:  rounding, about 1e-14 of the largest number.
/// Source: two convex bodies are apart if one of a few directions parts them: the normals of their
///         faces and the products of their edges [GLM96].
double crossing_depth(const Eigen::Matrix3d& one, const Eigen::Matrix3d& two);

struct SelfCrossing {
  int one, two;           ///< triangles
  Eigen::Vector3d place;  ///< in steps, near where they cross
};

struct CrossingSearch {
  std::optional<SelfCrossing> first;  ///< the first found, the same every time
  bool finished;                      ///< false where too many triangles lie near each other
};

/// Looks for two triangles that cross by more than `depth_steps`. Those that share an edge cannot.
///
/// Work:   gives up after 400 pairs a triangle and 100 million more.
CrossingSearch find_self_crossing(const TriangleMesh& mesh,
                                  const MeshTree& tree,
                                  double depth_steps);

}  // namespace thickset

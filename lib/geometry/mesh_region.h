#pragma once

#include "geometry/mesh_tree.h"
#include "geometry/region.h"
#include "geometry/triangle_mesh.h"

#include <cstdint>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// The inside of a closed mesh that is oriented outwards and does not cross itself.
class MeshRegion : public Region {
 public:
  /// In: a mesh as check_mesh leaves it, and its triangles as a tree.
  MeshRegion(TriangleMesh mesh, MeshTree tree);

  Box bounds_m() const override { return bounds_m_; }

  /// Error: the line is moved to the lattice, by half a step at most, and by less than any number
  ///        beyond that where it would meet an edge or a corner. So each crossing is counted once,
  ///        and their number is even always. Positions are rounded to a step or so.
  /// Source: the moving, [EM90].
  std::vector<Crossing> crossings(int axis, double u_m, double v_m) const override;

  /// Whether a place, in steps, lies inside; one on the surface may be called either.
  bool holds(const Eigen::Vector3d& place_steps) const;

  const TriangleMesh& mesh() const { return mesh_; }
  const MeshTree& tree() const { return tree_; }

 private:
  TriangleMesh mesh_;
  MeshTree tree_;
  Box bounds_m_;
};

/// Where a line parallel to an axis goes through a triangle.
struct LineCrossing {
  int triangle;
  double position;  ///< along the axis, in steps
  bool leaves;      ///< the inside, going up the axis
};

/// All of them, unsorted. The line is at whole u, v along the next axis and the one after it.
std::vector<LineCrossing> line_crossings(const TriangleMesh& mesh,
                                         const MeshTree& tree,
                                         int axis,
                                         std::int64_t u,
                                         std::int64_t v);

}  // namespace thickset

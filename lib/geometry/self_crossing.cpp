#include "geometry/self_crossing.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include <Eigen/Geometry>

namespace thickset {
namespace {

using Corners = Eigen::Matrix3d;  // one a column

/// How far the triangles overlap along a direction: the smaller of the two moves that part them.
/// Infinite for a direction of no length.
double overlap_along(const Eigen::Vector3d& direction, const Corners& one, const Corners& two) {
  const double length = direction.norm();
  if (!(length > 0.0)) return std::numeric_limits<double>::infinity();
  const Eigen::RowVector3d a = direction.transpose() * one;
  const Eigen::RowVector3d b = direction.transpose() * two;
  return std::min(a.maxCoeff() - b.minCoeff(), b.maxCoeff() - a.minCoeff()) / length;
}

Eigen::Vector3d edge(const Corners& corners, int k) {
  return corners.col((k + 1) % 3) - corners.col(k);
}

Corners corners_of(const TriangleMesh& mesh, int triangle) {
  const TriangleMesh::Triangle& t = mesh.triangles[static_cast<std::size_t>(triangle)];
  Corners corners;
  corners << mesh.steps(t[0]), mesh.steps(t[1]), mesh.steps(t[2]);
  return corners;
}

int shared_corners(const TriangleMesh::Triangle& one, const TriangleMesh::Triangle& two) {
  return static_cast<int>(std::count_if(one.begin(), one.end(), [&](int vertex) {
    return std::find(two.begin(), two.end(), vertex) != two.end();
  }));
}

/// The middle of the part of the boxes of both that they have in common.
Eigen::Vector3d between(const Corners& one, const Corners& two) {
  const Eigen::Vector3d low = one.rowwise().minCoeff().cwiseMax(two.rowwise().minCoeff());
  const Eigen::Vector3d high = one.rowwise().maxCoeff().cwiseMin(two.rowwise().maxCoeff());
  return (low + high) / 2.0;
}

bool boxes_overlap(const Corners& one, const Corners& two) {
  return (one.rowwise().minCoeff().array() <= two.rowwise().maxCoeff().array()).all() &&
         (two.rowwise().minCoeff().array() <= one.rowwise().maxCoeff().array()).all();
}

/// As crossing_depth, but any number not above `enough` where the depth is not.
double depth_above(const Corners& from_one, const Corners& from_two, double enough) {
  // From a corner, so that the rounding is of the size of the triangles.
  const Eigen::Vector3d origin = from_one.col(0);
  const Corners one = from_one.colwise() - origin;
  const Corners two = from_two.colwise() - origin;
  double depth = overlap_along(edge(one, 0).cross(edge(one, 1)), one, two);
  if (depth <= enough) return depth;
  depth = std::min(depth, overlap_along(edge(two, 0).cross(edge(two, 1)), one, two));
  for (int i = 0; i < 3 && depth > enough; ++i) {
    for (int k = 0; k < 3 && depth > enough; ++k) {
      depth = std::min(depth, overlap_along(edge(one, i).cross(edge(two, k)), one, two));
    }
  }
  return depth;
}

}  // namespace

double crossing_depth(const Eigen::Matrix3d& one, const Eigen::Matrix3d& two) {
  return std::max(0.0, depth_above(one, two, 0.0));
}

CrossingSearch find_self_crossing(const TriangleMesh& mesh,
                                  const MeshTree& tree,
                                  double depth_steps) {
  CrossingSearch search{std::nullopt, true};
  std::int64_t pairs_left = 100'000'000 + 400 * static_cast<std::int64_t>(mesh.triangles.size());
  tree.for_each_near_pair([&](int a, int b) {
    if (--pairs_left < 0) {
      search.finished = false;
      return false;
    }
    const Corners one = corners_of(mesh, a);
    const Corners two = corners_of(mesh, b);
    if (!boxes_overlap(one, two)) return true;
    if (shared_corners(mesh.triangles[static_cast<std::size_t>(a)],
                       mesh.triangles[static_cast<std::size_t>(b)]) >= 2) {
      return true;
    }
    if (!(depth_above(one, two, depth_steps) > depth_steps)) return true;
    search.first = SelfCrossing{a, b, between(one, two)};
    return false;
  });
  return search;
}

}  // namespace thickset

#include "geometry/winding.h"

#include "geometry/mesh_region.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace thickset {
namespace {

/// Whether the crossing of `own` parts inside from outside; true where that cannot be judged.
bool parts(const std::vector<LineCrossing>& crossings, int own, double near_steps) {
  const auto found = std::find_if(
      crossings.begin(), crossings.end(), [&](const auto& c) { return c.triangle == own; });
  if (found == crossings.end()) return true;  // too narrow for a line of whole numbers
  int winding = 0;                            // below the crossing
  for (const LineCrossing& other : crossings) {
    if (other.triangle == own) continue;
    if (std::abs(other.position - found->position) <= near_steps) return true;
    if (other.position < found->position) winding += other.leaves ? -1 : 1;
  }
  return winding == (found->leaves ? 1 : 0);
}

}  // namespace

std::optional<Eigen::Vector3d> find_wrong_winding(const TriangleMesh& mesh,
                                                  const MeshTree& tree,
                                                  double near_steps) {
  const int n = static_cast<int>(mesh.triangles.size());
  const int stride = 1 + (n - 1) / most_windings;
  for (int number = 0; number < n; number += stride) {
    const TriangleMesh::Triangle& triangle = mesh.triangles[static_cast<std::size_t>(number)];
    const Eigen::Vector3d middle =
        (mesh.steps(triangle[0]) + mesh.steps(triangle[1]) + mesh.steps(triangle[2])) / 3.0;
    int axis = 0;  // the one that goes through the triangle most directly
    doubled_area(mesh, triangle).cast<double>().cwiseAbs().maxCoeff(&axis);
    const auto u = static_cast<std::int64_t>(std::round(middle[(axis + 1) % 3]));
    const auto v = static_cast<std::int64_t>(std::round(middle[(axis + 2) % 3]));
    if (!parts(line_crossings(mesh, tree, axis, u, v), number, near_steps)) return middle;
  }
  return std::nullopt;
}

}  // namespace thickset

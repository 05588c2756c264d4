#include "geometry/mesh_region.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <utility>

namespace thickset {
namespace {

/// A corner or the line, as it is seen along the axis.
struct Flat {
  std::int64_t u, v;
};

struct Area {
  std::int64_t doubled;  ///< of the triangle of an edge and the line; exact
  int sign;              ///< never 0 but for an edge that is seen as a point
};

// With p = (u + e, v + e^2), e above zero and below any number, the doubled area
//   (b_u - a_u) (p_v - a_v) - (b_v - a_v) (p_u - a_u)
// is what it is at e = 0, else -(b_v - a_v) e, else (b_u - a_u) e^2. [EM90]
Area area(const Flat& a, const Flat& b, const Flat& p) {
  const std::int64_t du = b.u - a.u;
  const std::int64_t dv = b.v - a.v;
  const std::int64_t doubled = du * (p.v - a.v) - dv * (p.u - a.u);
  const std::int64_t decides = doubled != 0 ? doubled : dv != 0 ? -dv : du;
  return {doubled, decides > 0 ? 1 : decides < 0 ? -1 : 0};
}

/// Crossings in the order of their positions, entering and leaving in turn. Where rounding has put
/// two that fall together the wrong way round, the next that fits comes first.
void sort_in_turn(std::vector<LineCrossing>& crossings) {
  std::sort(crossings.begin(), crossings.end(), [](const LineCrossing& a, const LineCrossing& b) {
    return a.position != b.position ? a.position < b.position : a.triangle < b.triangle;
  });
  bool leaves = false;
  for (auto next = crossings.begin(); next != crossings.end(); ++next, leaves = !leaves) {
    const auto fits =
        std::find_if(next, crossings.end(), [&](const auto& c) { return c.leaves == leaves; });
    if (fits == crossings.end()) return;  // as many enter as leave: only where the mesh is broken
    const double position = next->position;
    std::rotate(next, fits, fits + 1);
    next->position = position;
  }
}

}  // namespace

std::vector<LineCrossing> line_crossings(const TriangleMesh& mesh,
                                         const MeshTree& tree,
                                         int axis,
                                         std::int64_t u,
                                         std::int64_t v) {
  assert(axis >= 0 && axis < 3);
  const int u_axis = (axis + 1) % 3;
  const int v_axis = (axis + 2) % 3;
  const Flat line{u, v};
  std::vector<LineCrossing> crossings;
  const auto visit = [&](int triangle) {
    const TriangleMesh::Triangle& corners = mesh.triangles[static_cast<std::size_t>(triangle)];
    std::array<Flat, 3> flat;
    std::array<double, 3> height;
    for (std::size_t k = 0; k < 3; ++k) {
      const Eigen::Vector3i& place = mesh.vertices[static_cast<std::size_t>(corners[k])];
      flat[k] = {place[u_axis], place[v_axis]};
      height[k] = place[axis];
    }
    const Area opposite_2 = area(flat[0], flat[1], line);
    const Area opposite_0 = area(flat[1], flat[2], line);
    if (opposite_0.sign != opposite_2.sign || opposite_0.sign == 0) return true;
    const Area opposite_1 = area(flat[2], flat[0], line);
    if (opposite_1.sign != opposite_0.sign) return true;
    const double a0 = static_cast<double>(opposite_0.doubled);
    const double a1 = static_cast<double>(opposite_1.doubled);
    const double a2 = static_cast<double>(opposite_2.doubled);
    const double position = (a0 * height[0] + a1 * height[1] + a2 * height[2]) / (a0 + a1 + a2);
    crossings.push_back({triangle, position, opposite_0.sign > 0});
    return true;
  };
  const double line_u = static_cast<double>(u);
  const double line_v = static_cast<double>(v);
  const auto meets = [&](const Eigen::Vector3d& low, const Eigen::Vector3d& high) {
    return low[u_axis] <= line_u && line_u <= high[u_axis] && low[v_axis] <= line_v &&
           line_v <= high[v_axis];
  };
  tree.for_each_where(meets, visit);
  return crossings;
}

MeshRegion::MeshRegion(TriangleMesh mesh, MeshTree tree)
    : mesh_{std::move(mesh)}, tree_{std::move(tree)}, bounds_m_{measure(mesh_).bounds_m} {}

std::vector<Region::Crossing> MeshRegion::crossings(int axis, double u_m, double v_m) const {
  assert(axis >= 0 && axis < 3);
  const double u = std::round((u_m - mesh_.origin_m[(axis + 1) % 3]) / mesh_.step_m);
  const double v = std::round((v_m - mesh_.origin_m[(axis + 2) % 3]) / mesh_.step_m);
  // Accepting form: NaN is no line that meets the region.
  if (!(std::abs(u) <= largest_coordinate && std::abs(v) <= largest_coordinate)) return {};

  std::vector<LineCrossing> found = line_crossings(
      mesh_, tree_, axis, static_cast<std::int64_t>(u), static_cast<std::int64_t>(v));
  sort_in_turn(found);
  std::vector<Crossing> crossings;
  crossings.reserve(found.size());
  for (const LineCrossing& crossing : found) {
    const auto& triangle = mesh_.triangles[static_cast<std::size_t>(crossing.triangle)];
    crossings.push_back({mesh_.origin_m[axis] + mesh_.step_m * crossing.position,
                         doubled_area(mesh_, triangle).cast<double>().normalized()});
  }
  return crossings;
}

bool MeshRegion::holds(const Eigen::Vector3d& place_steps) const {
  const Eigen::Vector3d whole = place_steps.array().round();
  if (!(whole.cwiseAbs().maxCoeff() <= largest_coordinate)) return false;
  const std::vector<LineCrossing> found = line_crossings(
      mesh_, tree_, 0, static_cast<std::int64_t>(whole.y()), static_cast<std::int64_t>(whole.z()));
  const auto below = std::count_if(
      found.begin(), found.end(), [&](const auto& c) { return c.position <= place_steps.x(); });
  return below % 2 == 1;
}

}  // namespace thickset

#include "geometry/triangle_mesh.h"

#include "geometry/solid_size.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <limits>

#include <Eigen/Geometry>

namespace thickset {
namespace {

/// Gives each place on the lattice its number, in order of first appearance. Open addressing: the
/// slot of a place is the first free one behind its hash.
class VertexNumbers {
 public:
  VertexNumbers(std::vector<Eigen::Vector3i>& vertices, std::size_t most_vertices)
      : vertices_{vertices} {
    std::size_t slots = 16;
    while (slots < 2 * most_vertices) slots *= 2;
    slots_.assign(slots, free_slot);
  }

  int number_of(const Eigen::Vector3i& place) {
    const std::size_t mask = slots_.size() - 1;
    for (std::size_t slot = hash(place) & mask;; slot = (slot + 1) & mask) {
      if (slots_[slot] == free_slot) {
        slots_[slot] = static_cast<int>(vertices_.size());
        vertices_.push_back(place);
        return slots_[slot];
      }
      if (vertices_[static_cast<std::size_t>(slots_[slot])] == place) return slots_[slot];
    }
  }

 private:
  static constexpr int free_slot = -1;

  static std::size_t hash(const Eigen::Vector3i& place) {
    std::uint64_t mixed = 0;
    for (int axis = 0; axis < 3; ++axis) {
      mixed ^= static_cast<std::uint32_t>(place[axis]);
      mixed *= 0x9E3779B97F4A7C15u;  // 2^64 over the golden ratio
      mixed ^= mixed >> 29;
    }
    return static_cast<std::size_t>(mixed);
  }

  std::vector<Eigen::Vector3i>& vertices_;
  std::vector<int> slots_;
};

}  // namespace

double negligible_steps(const TriangleMesh& mesh) {
  Eigen::Vector3i low = Eigen::Vector3i::Constant(std::numeric_limits<int>::max());
  Eigen::Vector3i high = -low;
  for (const Eigen::Vector3i& vertex : mesh.vertices) {
    low = low.cwiseMin(vertex);
    high = high.cwiseMax(vertex);
  }
  const Eigen::Vector3d origin = mesh.origin_m / mesh.step_m;
  const double side = (high - low).cast<double>().maxCoeff();
  const double coordinate = std::max((origin + low.cast<double>()).cwiseAbs().maxCoeff(),
                                     (origin + high.cast<double>()).cwiseAbs().maxCoeff());
  return std::max(negligible_of_side * side, negligible_of_coordinate * coordinate);
}

TriangleMesh weld(const TriangleSoup& soup, Lengths unit, const Place& place) {
  assert(!soup.corners.empty() && soup.corners.size() % 3 == 0);
  Eigen::Vector3d low = soup.corners.front();
  Eigen::Vector3d high = low;
  for (const Eigen::Vector3d& corner : soup.corners) {
    low = low.cwiseMin(corner);
    high = high.cwiseMax(corner);
  }
  const Eigen::Vector3d sides = high - low;
  check_sides(sides, unit, place);

  // A step that is a power of two of the file's unit: numbers that are short there stay exact.
  const double step = std::ldexp(1.0, std::ilogb(sides.maxCoeff()) - 28);
  const Eigen::Vector3d origin = ((low + 0.5 * sides) / step).array().round() * step;
  const double unit_m =
      unit == Lengths::millimetre ? Length::from_mm(1.0).in_m() : Length::from_inch(1.0).in_m();

  TriangleMesh mesh{origin * unit_m, step * unit_m, {}, {}};
  mesh.triangles.reserve(soup.corners.size() / 3);
  VertexNumbers numbers{mesh.vertices, soup.corners.size()};
  for (std::size_t corner = 0; corner < soup.corners.size(); corner += 3) {
    TriangleMesh::Triangle triangle;
    for (std::size_t k = 0; k < 3; ++k) {
      const Eigen::Vector3d in_steps = (soup.corners[corner + k] - origin) / step;
      triangle[k] = numbers.number_of(in_steps.array().round().cast<int>());
    }
    mesh.triangles.push_back(triangle);
  }
  drop_collapsed(mesh);
  return mesh;
}

int drop_collapsed(TriangleMesh& mesh) {
  const auto dropped = std::erase_if(mesh.triangles, [](const TriangleMesh::Triangle& t) {
    return t[0] == t[1] || t[1] == t[2] || t[2] == t[0];
  });
  return static_cast<int>(dropped);
}

Eigen::Matrix<std::int64_t, 3, 1> doubled_area(const TriangleMesh& mesh,
                                               const TriangleMesh::Triangle& triangle) {
  using Whole = Eigen::Matrix<std::int64_t, 3, 1>;
  const auto at = [&](std::size_t k) -> Whole {
    return mesh.vertices[static_cast<std::size_t>(triangle[k])].cast<std::int64_t>();
  };
  const Whole first = at(1) - at(0);
  const Whole second = at(2) - at(0);
  return first.cross(second);
}

MeshMeasures measure(const TriangleMesh& mesh) {
  Eigen::Vector3d low = Eigen::Vector3d::Constant(std::numeric_limits<double>::infinity());
  Eigen::Vector3d high = -low;
  double doubled_area_sum = 0.0;
  double volume_sum = 0.0;  // six times the volume
  Eigen::Vector3d moment_sum = Eigen::Vector3d::Zero();
  for (const TriangleMesh::Triangle& triangle : mesh.triangles) {
    const Eigen::Vector3d a = mesh.steps(triangle[0]);
    const Eigen::Vector3d b = mesh.steps(triangle[1]);
    const Eigen::Vector3d c = mesh.steps(triangle[2]);
    const Eigen::Vector3d normal = doubled_area(mesh, triangle).cast<double>();
    low = low.cwiseMin(a).cwiseMin(b).cwiseMin(c);
    high = high.cwiseMax(a).cwiseMax(b).cwiseMax(c);
    // The tetrahedron of the triangle and the origin: det(a, b, c) / 6, its centroid
    // (a + b + c) / 4.
    const double volume = a.dot(normal);
    doubled_area_sum += normal.norm();
    volume_sum += volume;
    moment_sum += volume * (a + b + c) / 4.0;
  }
  const double step_m = mesh.step_m;
  return {volume_sum / 6.0 * step_m * step_m * step_m,
          doubled_area_sum / 2.0 * step_m * step_m,
          mesh.origin_m + step_m * moment_sum / volume_sum,
          {mesh.origin_m + step_m * low, mesh.origin_m + step_m * high}};
}

}  // namespace thickset

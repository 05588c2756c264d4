#pragma once

#include "base/place.h"
#include "geometry/read_stl.h"
#include "geometry/region.h"
#include "units/length.h"

#include <array>
#include <cstddef>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// Triangles that share their corners. Corners lie on a lattice: whole numbers of steps from an
/// origin. The lattice makes the sign of an area or a volume exact in whole numbers of 64 bits, so
/// that which side of an edge a line passes has one answer for both triangles at the edge.
struct TriangleMesh {
  using Triangle = std::array<int, 3>;  ///< counter-clockwise seen from outside

  Eigen::Vector3d origin_m;
  double step_m;
  std::vector<Eigen::Vector3i> vertices;  ///< in steps; no component beyond +-largest_coordinate
  std::vector<Triangle> triangles;

  Eigen::Vector3d vertex_m(int vertex) const {
    return origin_m + step_m * vertices[static_cast<std::size_t>(vertex)].cast<double>();
  }
  Eigen::Vector3d steps(int vertex) const {
    return vertices[static_cast<std::size_t>(vertex)].cast<double>();
  }
};

/// The longest side of the mesh has 2^28 to 2^29 steps: a step is 0.5 nm where that side
/// is 200 mm, a thirtieth of what the numbers of 4 bytes of an STL file resolve there.
inline constexpr int largest_coordinate = (1 << 28) + 1;

/// A piece of the longest side of the mesh, below which nothing is looked at: open corners nearer
/// than this are joined, triangles that cross by less are let be.
inline constexpr double negligible_of_side = 1e-6;
/// The same for meshes far from the file's origin, whose corners a file of 4-byte numbers rounds
/// the more: a piece of the largest coordinate, twice what such a number resolves at worst.
inline constexpr double negligible_of_coordinate = 1.0 / (1 << 22);

/// The larger of both, in lattice steps.
double negligible_steps(const TriangleMesh& mesh);

/// Puts the corners on the lattice and joins those that fall together. Triangles two of whose
/// corners fall together are left out.
///
/// In:     the file's unit; a place for messages.
/// Error:  moves a corner by half a step at most.
/// Throws: Error where the longest side is not within thinnest_accepted..largest_side, with what
///         the file's numbers would mean in the other unit.
TriangleMesh weld(const TriangleSoup& soup, Lengths unit, const Place& place);

/// Leaves out triangles two of whose corners are the same vertex; says how many.
int drop_collapsed(TriangleMesh& mesh);

/// Twice the area of a triangle times its normal (right-handed), in steps squared. Exact: each
/// component is below 2^60.
Eigen::Matrix<std::int64_t, 3, 1> doubled_area(const TriangleMesh& mesh,
                                               const TriangleMesh::Triangle& triangle);

/// What follows from the surface alone, of a closed mesh that is oriented outwards.
///
/// Error: rounding, about 1e-12 of the value.
/// Source: the divergence theorem, each triangle with the middle of the box as a tetrahedron.
struct MeshMeasures {
  double volume_m3;
  double area_m2;
  Eigen::Vector3d centroid_m;  ///< of the volume
  Region::Box bounds_m;
};
MeshMeasures measure(const TriangleMesh& mesh);

}  // namespace thickset

#pragma once

#include "base/place.h"
#include "geometry/triangle_mesh.h"
#include "units/length.h"

#include <vector>

namespace thickset {

/// Side k of triangle t runs from its corner k to the next and has the number 3 t + k.
using Sides = std::vector<int>;

/// For each side the one it meets.
///
/// Throws: Error where a side has no partner (the surface is open: how many, and where the longest
///         rim is) or more than one (the surface branches: how many, and where the first is).
Sides partners(const TriangleMesh& mesh, Lengths unit, const Place& place);

/// Joins corners on open edges that lie within `within_steps` of another along each axis; says how
/// many. Leaves a closed mesh as it is.
int join_open_corners(TriangleMesh& mesh, double within_steps);

/// Triangles connected over their sides, all turned one way. Which way is out is not yet known.
struct Shells {
  std::vector<int> of_triangle;  ///< the number of its shell, from 0
  int count;
  int turned;  ///< triangles turned to agree with the rest of their shell
};

/// Turns the fewer triangles of each shell, so that neighbours agree on which side is out.
///
/// Throws: Error where that cannot be done: the surface has one side only.
Shells orient(TriangleMesh& mesh, const Sides& partners, Lengths unit, const Place& place);

/// Leaves out triangles whose corners lie on one line, exactly, and their numbers in `shells`. What
/// is left has the same surface, but an edge may now end inside another.
void drop_without_area(TriangleMesh& mesh, Shells& shells);

}  // namespace thickset

#include "geometry/mesh_edges.h"

#include <algorithm>
#include <set>

#include <doctest/doctest.h>

#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

TriangleMesh welded(const TriangleSoup& soup) {
  return weld(soup, Lengths::millimetre, {"a.stl"});
}

}  // namespace

TEST_CASE("mesh edges: each side and its partner run along one edge in opposite directions") {
  const TriangleMesh mesh = welded(torus(80.0, 25.0, 9));
  const Sides partner = partners(mesh, Lengths::millimetre, {"a.stl"});
  REQUIRE(partner.size() == 3 * mesh.triangles.size());
  const auto corner = [&](int side, int more) {
    return mesh
        .triangles[static_cast<std::size_t>(side / 3)][static_cast<std::size_t>((side + more) % 3)];
  };
  for (int side = 0; side < static_cast<int>(partner.size()); ++side) {
    const int other = partner[static_cast<std::size_t>(side)];
    CHECK(partner[static_cast<std::size_t>(other)] == side);
    CHECK(corner(side, 0) == corner(other, 1));
    CHECK(corner(side, 1) == corner(other, 0));
  }
}

TEST_CASE("mesh edges: of each shell the fewer triangles are turned, and none needs it twice") {
  TriangleSoup soup = ball(45.0, 6);
  append(soup, moved(ball(45.0, 6), {200.0, 0.0, 0.0}));
  const std::size_t half = soup.corners.size() / 2;
  std::swap(soup.corners[0], soup.corners[1]);
  for (std::size_t i = half; i < soup.corners.size() - 6; i += 3) {  // all but two of the second
    std::swap(soup.corners[i], soup.corners[i + 1]);
  }
  TriangleMesh mesh = welded(soup);
  const Sides partner = partners(mesh, Lengths::millimetre, {"a.stl"});
  const Shells shells = orient(mesh, partner, Lengths::millimetre, {"a.stl"});
  CHECK(shells.count == 2);
  CHECK(shells.turned == 3);
  CHECK(shells.of_triangle.front() == 0);
  CHECK(shells.of_triangle.back() == 1);
  CHECK(orient(mesh, partners(mesh, Lengths::millimetre, {"a.stl"}), Lengths::millimetre, {"a.stl"})
            .turned == 0);
}

TEST_CASE("mesh edges: corners are joined within the distance along each axis, not beyond") {
  for (const double part : {0.9, 1.1}) {
    TriangleSoup soup = box(60.0, 60.0, 60.0);
    soup.corners[0] += Point{0.0, part * 0.01, -part * 0.01};  // one triangle's own corner
    TriangleMesh mesh = welded(soup);
    const int joined = join_open_corners(mesh, 0.01e-3 / mesh.step_m);
    CHECK(joined == (part < 1.0 ? 1 : 0));
  }
  TriangleMesh closed = welded(box(60.0, 60.0, 60.0));
  CHECK(join_open_corners(closed, 1e6) == 0);
}

TEST_CASE("mesh edges: triangles without area are left out with their shells") {
  TriangleSoup soup = box(60.0, 60.0, 60.0);
  TriangleSoup line;
  add(line, {0.0, 0.0, 90.0}, {10.0, 0.0, 90.0}, {30.0, 0.0, 90.0});
  append(line, turned_inside_out(line));
  append(line, soup);
  TriangleMesh mesh = welded(line);
  Shells shells =
      orient(mesh, partners(mesh, Lengths::millimetre, {"a.stl"}), Lengths::millimetre, {"a.stl"});
  CHECK(shells.count == 2);
  drop_without_area(mesh, shells);
  CHECK(mesh.triangles.size() == 12);
  CHECK(shells.count == 1);
  CHECK(shells.of_triangle == std::vector<int>(12, 0));
}

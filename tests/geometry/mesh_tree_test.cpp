#include "geometry/mesh_tree.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <set>
#include <utility>

#include <doctest/doctest.h>

#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

TriangleMesh welded(const TriangleSoup& soup) {
  return weld(soup, Lengths::millimetre, {"a.stl"});
}

Point random_place(std::mt19937& random, double half_side) {
  std::uniform_real_distribution<double> place{-half_side, half_side};
  const double x = place(random);
  const double y = place(random);
  return {x, y, place(random)};
}

}  // namespace

TEST_CASE("mesh tree: the nearest point is nearer than that of every triangle") {
  std::mt19937 random{1};
  for (const TriangleSoup& soup : {box(75.0, 50.0, 120.0, 3), tilted(torus(80.0, 25.0, 14))}) {
    const TriangleMesh mesh = welded(soup);
    const MeshTree tree{mesh};
    const int n = static_cast<int>(mesh.triangles.size());
    for (int i = 0; i < 100; ++i) {
      const Point place = random_place(random, 4e8);
      double least = std::numeric_limits<double>::infinity();
      for (int t = 0; t < n; ++t) least = std::min(least, tree.distance(place, t));
      const MeshTree::Nearest found = tree.nearest(place, i % n);
      CHECK(found.distance == least);
      CHECK((found.point - place).norm() == doctest::Approx(least));
      CHECK(tree.distance(found.point, found.triangle) <= 1e-7 * 4e8);
    }
  }
}

TEST_CASE("mesh tree: the distance to a triangle is the least to many places on it") {
  std::mt19937 random{2};
  for (int i = 0; i < 60; ++i) {
    TriangleMesh mesh{Point::Zero(), 1.0, {}, {{0, 1, 2}}};
    for (int k = 0; k < 3; ++k) mesh.vertices.push_back(random_place(random, 1000.0).cast<int>());
    if (i % 5 == 0) mesh.vertices[2] = mesh.vertices[0] + Eigen::Vector3i{0, 0, 1};  // narrow
    if (doubled_area(mesh, mesh.triangles[0]).isZero()) continue;
    const MeshTree tree{mesh};
    const Point place = random_place(random, 1500.0);
    double least = std::numeric_limits<double>::infinity();
    constexpr int n = 100;
    for (int a = 0; a <= n; ++a) {
      for (int b = 0; a + b <= n; ++b) {
        const Point on = (a * mesh.steps(0) + b * mesh.steps(1) + (n - a - b) * mesh.steps(2)) / n;
        least = std::min(least, (on - place).norm());
      }
    }
    constexpr double spacing = 2.0 * 3500.0 / n;  // of the places on the triangle
    CHECK(tree.distance(place, 0) <= least + 1e-9);
    CHECK(tree.distance(place, 0) >= least - spacing);
  }
}

TEST_CASE("mesh tree: the first triangle ahead") {
  const TriangleMesh mesh = welded(box(100.0, 100.0, 100.0, 7));
  const MeshTree tree{mesh};
  const double side = 0.1 / mesh.step_m;
  const auto found = tree.first_ahead({0.1 * side, 0.03 * side, -0.2 * side}, Point::UnitY());
  REQUIRE(found.has_value());
  CHECK(found->distance == doctest::Approx(0.47 * side));
  const auto outside = tree.first_ahead({0.0, 0.0, side}, Point::UnitZ());
  CHECK_FALSE(outside.has_value());
}

TEST_CASE("mesh tree: every pair of triangles with boxes that overlap is visited once") {
  const TriangleMesh mesh = welded(tilted(torus(80.0, 25.0, 9)));
  const MeshTree tree{mesh};
  const int n = static_cast<int>(mesh.triangles.size());
  std::set<std::pair<int, int>> visited;
  bool twice = false;
  tree.for_each_near_pair([&](int a, int b) {
    twice = twice || !visited.insert(std::minmax(a, b)).second;
    return true;
  });
  CHECK_FALSE(twice);
  const auto low = [&](int t) {
    const auto& c = tree.corners(t);
    return c.a.cwiseMin(c.b).cwiseMin(c.c).eval();
  };
  const auto high = [&](int t) {
    const auto& c = tree.corners(t);
    return c.a.cwiseMax(c.b).cwiseMax(c.c).eval();
  };
  int n_missed = 0;
  for (int a = 0; a < n; ++a) {
    for (int b = a + 1; b < n; ++b) {
      const bool overlap =
          (low(a).array() <= high(b).array()).all() && (low(b).array() <= high(a).array()).all();
      if (overlap && !visited.contains({a, b})) ++n_missed;
    }
  }
  CHECK(n_missed == 0);
}

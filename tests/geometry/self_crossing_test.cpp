#include "geometry/self_crossing.h"

#include <random>

#include <doctest/doctest.h>
#include <Eigen/Geometry>

#include "geometry/stl_shapes.h"

using namespace thickset;
using thickset::stl_shapes::Point;

namespace {

Eigen::Matrix3d triangle(const Point& a, const Point& b, const Point& c) {
  Eigen::Matrix3d corners;
  corners << a, b, c;
  return corners;
}

/// Whether a side of one goes through the inside of the other, by the signs of volumes; another way
/// than the one tested.
bool pierces(const Eigen::Matrix3d& one, const Eigen::Matrix3d& two) {
  const auto volume = [](const Point& a, const Point& b, const Point& c, const Point& d) {
    return (b - a).cross(c - a).dot(d - a);
  };
  for (int i = 0; i < 3; ++i) {
    const Point p = one.col(i);
    const Point q = one.col((i + 1) % 3);
    const Point a = two.col(0);
    const Point b = two.col(1);
    const Point c = two.col(2);
    if (volume(a, b, c, p) * volume(a, b, c, q) >= 0.0) continue;
    const bool ab = volume(p, q, a, b) > 0.0;
    const bool bc = volume(p, q, b, c) > 0.0;
    const bool ca = volume(p, q, c, a) > 0.0;
    if (ab == bc && bc == ca) return true;
  }
  return false;
}

const Eigen::Matrix3d flat = triangle({0.0, 0.0, 0.0}, {10.0, 0.0, 0.0}, {0.0, 10.0, 0.0});

}  // namespace

TEST_CASE("crossing depth: how far a triangle reaches through another") {
  CHECK(crossing_depth(flat, triangle({2.0, 2.0, -0.25}, {2.0, 2.5, 9.0}, {2.5, 2.0, 9.0})) ==
        doctest::Approx(0.25));
  CHECK(crossing_depth(triangle({2.0, 2.0, -0.25}, {2.0, 2.5, 9.0}, {2.5, 2.0, 9.0}), flat) ==
        doctest::Approx(0.25));
}

TEST_CASE("crossing depth: apart or touching is none") {
  const Eigen::Matrix3d standing = triangle({2.0, 2.0, 0.0}, {2.0, 3.0, 9.0}, {3.0, 2.0, 9.0});
  CHECK(crossing_depth(flat, standing) == 0.0);                                   // a corner on it
  CHECK(crossing_depth(flat, standing.colwise() + Point{0.0, 0.0, 1.0}) == 0.0);  // above
  CHECK(crossing_depth(flat, standing.colwise() + Point{20.0, 0.0, -4.0}) == 0.0);  // beside
  CHECK(crossing_depth(flat, flat) == 0.0);  // one on the other: nothing is crossed
  CHECK(crossing_depth(flat, triangle({0.0, 0.0, 0.0}, {0.0, 10.0, 0.0}, {0.0, 0.0, 10.0})) == 0.0);
}

TEST_CASE("crossing depth: agrees with sides that pierce, for many random pairs") {
  std::mt19937 random{7};
  std::uniform_real_distribution<double> place{-1.0, 1.0};
  const auto any = [&] {
    return Eigen::Matrix3d::NullaryExpr([&](Eigen::Index, Eigen::Index) { return place(random); })
        .eval();
  };
  int n_crossing = 0;
  for (int i = 0; i < 20000; ++i) {
    const Eigen::Matrix3d one = any();
    Eigen::Matrix3d two = any();
    if (i % 2 == 0) two.col(0) = one.col(0);  // neighbours that share a corner
    const double depth = crossing_depth(one, two);
    const bool crossing = pierces(one, two) || pierces(two, one);
    // Shared corners lie on both triangles: signs of their volumes are rounding.
    if (i % 2 == 0 && depth < 1e-12) {
      CHECK(depth >= 0.0);
      continue;
    }
    CAPTURE(i);
    CHECK((depth > 0.0) == crossing);
    if (crossing) ++n_crossing;
  }
  CHECK(n_crossing > 1000);
}

TEST_CASE("crossing depth: moved clear by the depth, two triangles no longer cross") {
  std::mt19937 random{8};
  std::uniform_real_distribution<double> place{-1.0, 1.0};
  for (int i = 0; i < 2000; ++i) {
    Eigen::Matrix3d one, two;
    for (double& x : one.reshaped()) x = place(random);
    for (double& x : two.reshaped()) x = place(random);
    const double depth = crossing_depth(one, two);
    if (depth == 0.0) continue;
    // Nothing less than the depth parts them, in any of many directions.
    for (int k = 0; k < 20; ++k) {
      const Point way = Point{place(random), place(random), place(random)}.normalized();
      CHECK(crossing_depth(one, two.colwise() + (0.99 * depth * way).eval()) > 0.0);
    }
  }
}

TEST_CASE("self crossing: found where it is, and the same every time") {
  using namespace thickset::stl_shapes;
  TriangleSoup soup = box(50.0, 50.0, 50.0, 4);
  append(soup, moved(box(50.0, 50.0, 50.0, 3), {45.0, 45.0, 45.0}));
  const TriangleMesh mesh = weld(soup, Lengths::millimetre, {"a.stl"});
  const MeshTree tree{mesh};
  const CrossingSearch search = find_self_crossing(mesh, tree, negligible_steps(mesh));
  REQUIRE(search.first.has_value());
  const Point place_mm = 1e3 * (mesh.origin_m + mesh.step_m * search.first->place);
  // They have the corner from 45 to 50 mm in common.
  for (const double x : place_mm) {
    CHECK(x >= 44.0);
    CHECK(x <= 51.0);
  }
  const CrossingSearch again = find_self_crossing(mesh, tree, negligible_steps(mesh));
  CHECK(again.first->one == search.first->one);
  CHECK(again.first->two == search.first->two);
}

#include "geometry/mesh_region.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "geometry/check_mesh.h"
#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

MeshRegion region_of(const TriangleSoup& soup) {
  return check_mesh(soup, Lengths::millimetre, {"a.stl"}, {}).region;
}

/// Crossings rise, enter and leave in turn, and have normals of length 1.
bool in_turn(const std::vector<Region::Crossing>& crossings, int axis) {
  if (crossings.size() % 2 != 0) return false;
  double last_m = -INFINITY;
  bool leaves = false;
  for (const Region::Crossing& crossing : crossings) {
    if (!(crossing.position_m >= last_m)) return false;
    if (std::abs(crossing.normal.norm() - 1.0) > 1e-12) return false;
    if (crossing.normal[axis] == 0.0 || (crossing.normal[axis] > 0.0) != leaves) return false;
    last_m = crossing.position_m;
    leaves = !leaves;
  }
  return true;
}

double length_inside_m(const std::vector<Region::Crossing>& crossings) {
  double length_m = 0.0;
  for (std::size_t i = 0; i < crossings.size(); ++i) {
    length_m += (i % 2 == 0 ? -1.0 : 1.0) * crossings[i].position_m;
  }
  return length_m;
}

std::vector<TriangleSoup> solids() {
  TriangleSoup hollow = ball(45.0, 10);
  append(hollow, turned_inside_out(ball(20.0, 8)));
  std::vector<TriangleSoup> all{box(75.0, 50.0, 120.0),
                                box(64.0, 64.0, 64.0, 8),
                                ball(45.0, 10),
                                prism(3, 50.0, 100.0),
                                prism(12, 50.0, 40.0),
                                torus(80.0, 25.0, 12),
                                hollow};
  const std::size_t n = all.size();
  for (std::size_t i = 0; i < n; ++i) all.push_back(tilted(all[i]));
  return all;
}

}  // namespace

TEST_CASE("mesh region: a line through a box enters and leaves at its faces") {
  const MeshRegion region = region_of(moved(box(75.0, 50.0, 120.0), {5.0, 6.0, 7.0}));
  const double lows_m[] = {0.005, 0.006, 0.007};
  const double highs_m[] = {0.080, 0.056, 0.127};
  for (int axis = 0; axis < 3; ++axis) {
    const int u = (axis + 1) % 3;
    const int v = (axis + 2) % 3;
    const auto crossings = region.crossings(axis, lows_m[u] + 0.011, lows_m[v] + 0.013);
    REQUIRE(crossings.size() == 2);
    CHECK(crossings[0].position_m == doctest::Approx(lows_m[axis]).epsilon(1e-9));
    CHECK(crossings[1].position_m == doctest::Approx(highs_m[axis]).epsilon(1e-9));
    CHECK(crossings[0].normal == -Point::Unit(axis));
    CHECK(crossings[1].normal == Point::Unit(axis));
    CHECK(region.bounds_m().low_m[axis] == doctest::Approx(lows_m[axis]));
    CHECK(region.bounds_m().high_m[axis] == doctest::Approx(highs_m[axis]));
  }
}

TEST_CASE("mesh region: a line in a face counts to one side: the low faces are in, the high out") {
  const MeshRegion region = region_of(box(64.0, 64.0, 64.0, 4));
  for (int axis = 0; axis < 3; ++axis) {
    for (const double inner_m : {0.0, 0.016, 0.02, 0.048}) {
      CHECK(region.crossings(axis, 0.0, inner_m).size() == 2);
      CHECK(region.crossings(axis, inner_m, 0.0).size() == 2);
      CHECK(region.crossings(axis, 0.064, inner_m).empty());
      CHECK(region.crossings(axis, inner_m, 0.064).empty());
    }
  }
}

TEST_CASE("mesh region: lines that miss, far away or at no place, cross nothing") {
  constexpr double no_end = std::numeric_limits<double>::infinity();
  constexpr double no_number = std::numeric_limits<double>::quiet_NaN();
  const MeshRegion region = region_of(ball(45.0, 10));
  for (const double far_m : {0.046, -0.046, 1.0, -1e9, 1e300, no_end, -no_end, no_number}) {
    CHECK(region.crossings(0, far_m, 0.0).empty());
    CHECK(region.crossings(1, 0.0, far_m).empty());
  }
}

TEST_CASE("mesh region: lines through every corner and along every edge cross in turn") {
  for (const TriangleSoup& soup : solids()) {
    const MeshRegion region = region_of(soup);
    const TriangleMesh& mesh = region.mesh();
    int n_wrong = 0;
    const auto look = [&](int axis, const Point& place_m) {
      const auto crossings =
          region.crossings(axis, place_m[(axis + 1) % 3], place_m[(axis + 2) % 3]);
      if (!in_turn(crossings, axis)) ++n_wrong;
    };
    for (int axis = 0; axis < 3; ++axis) {
      for (const TriangleMesh::Triangle& t : mesh.triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
          const Point a = mesh.vertex_m(t[k]);
          const Point b = mesh.vertex_m(t[(k + 1) % 3]);
          for (const double part : {0.0, 0.25, 0.5}) look(axis, a + part * (b - a));
        }
      }
    }
    CHECK(n_wrong == 0);
  }
}

TEST_CASE("mesh region: many lines cross in turn, and their chords add up to the volume") {
  for (const TriangleSoup& soup : solids()) {
    const MeshRegion region = region_of(soup);
    const MeshMeasures measures = measure(region.mesh());
    const Region::Box box_m = region.bounds_m();
    for (int axis = 0; axis < 3; ++axis) {
      const int u = (axis + 1) % 3;
      const int v = (axis + 2) % 3;
      constexpr int n = 50;
      const double du_m = (box_m.high_m[u] - box_m.low_m[u]) / n;
      const double dv_m = (box_m.high_m[v] - box_m.low_m[v]) / n;
      double volume_m3 = 0.0;
      int n_wrong = 0;
      for (int i = 0; i < n; ++i) {
        for (int k = 0; k < n; ++k) {
          const auto crossings = region.crossings(
              axis, box_m.low_m[u] + (i + 0.5) * du_m, box_m.low_m[v] + (k + 0.5) * dv_m);
          if (!in_turn(crossings, axis)) ++n_wrong;
          volume_m3 += length_inside_m(crossings) * du_m * dv_m;
        }
      }
      CHECK(n_wrong == 0);
      constexpr double midpoint_rule = 0.02;  // of the volume: the outline falls between the lines
      CHECK(volume_m3 == doctest::Approx(measures.volume_m3).epsilon(midpoint_rule));
    }
  }
}

TEST_CASE("mesh region: chords of a ball are those of the ball, within its facets") {
  constexpr double r_m = 0.045;
  constexpr int n = 60;
  // A facet's middle lies below the ball by at most r (1 - cos(angle)), its half diagonal's angle.
  const double facet_m = r_m * (1.0 - std::cos(std::sqrt(2.0) * std::numbers::pi / n / 2.0));
  const MeshRegion region = region_of(tilted(ball(45.0, n)));
  std::mt19937 random{11};
  std::uniform_real_distribution<double> place_m{-0.8 * r_m / std::sqrt(2.0),
                                                 0.8 * r_m / std::sqrt(2.0)};
  for (int i = 0; i < 1000; ++i) {
    const double u_m = place_m(random);
    const double v_m = place_m(random);
    const double half_m = std::sqrt(r_m * r_m - u_m * u_m - v_m * v_m);
    const auto crossings = region.crossings(i % 3, u_m, v_m);
    REQUIRE(crossings.size() == 2);
    // Seen at a slant of at most 0.6 to the normal, the depth below the ball is longer.
    CHECK(std::abs(crossings[1].position_m - half_m) <= facet_m / 0.6);
    CHECK(std::abs(crossings[0].position_m + half_m) <= facet_m / 0.6);
    const Point normal = Point{crossings[1].position_m, u_m, v_m}.normalized();
    const Point found{crossings[1].normal[i % 3],
                      crossings[1].normal[(i + 1) % 3],
                      crossings[1].normal[(i + 2) % 3]};
    CHECK(normal.dot(found) > std::cos(2.0 * std::numbers::pi / n));
  }
}

TEST_CASE("mesh region: a hollow is crossed too") {
  TriangleSoup soup = box(80.0, 80.0, 80.0);
  append(soup, turned_inside_out(moved(box(20.0, 20.0, 20.0), {30.0, 30.0, 30.0})));
  const MeshRegion region = region_of(soup);
  const auto crossings = region.crossings(2, 0.040, 0.040);
  REQUIRE(crossings.size() == 4);
  CHECK(crossings[1].position_m == doctest::Approx(0.030));
  CHECK(crossings[2].position_m == doctest::Approx(0.050));
  CHECK(crossings[1].normal == Point::Unit(2));
  CHECK(crossings[2].normal == -Point::Unit(2));
}

TEST_CASE("mesh region: places are in or out") {
  const MeshRegion region = region_of(tilted(torus(80.0, 25.0, 40)));
  const TriangleMesh& mesh = region.mesh();
  const auto holds = [&](const Point& upright_mm) {
    const TriangleSoup one = tilted(TriangleSoup{{upright_mm}});
    return region.holds((1e-3 * one.corners[0] - mesh.origin_m) / mesh.step_m);
  };
  CHECK(holds({80.0, 0.0, 0.0}));
  CHECK(holds({0.0, -80.0, 20.0}));
  CHECK_FALSE(holds({0.0, 0.0, 0.0}));
  CHECK_FALSE(holds({80.0, 0.0, 26.0}));
  CHECK_FALSE(holds({1e7, 0.0, 0.0}));
  CHECK_FALSE(region.holds({NAN, 0.0, 0.0}));
}

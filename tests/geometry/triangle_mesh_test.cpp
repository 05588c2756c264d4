#include "geometry/triangle_mesh.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

TriangleMesh welded(const TriangleSoup& soup) {
  return weld(soup, Lengths::millimetre, {"a.stl"});
}
double volume_mm3(const TriangleSoup& soup) {
  return measure(welded(soup)).volume_m3 * 1e9;
}
double area_mm2(const TriangleSoup& soup) {
  return measure(welded(soup)).area_m2 * 1e6;
}

constexpr double pi = std::numbers::pi;
constexpr double rounding = 1e-8;  // corners lie on the lattice within 1e-9 of the longest side

}  // namespace

TEST_CASE("triangle mesh: corners at one place are one vertex") {
  const TriangleMesh mesh = welded(box(75.0, 50.0, 120.0));
  CHECK(mesh.vertices.size() == 8);
  CHECK(mesh.triangles.size() == 12);
  const TriangleMesh ring = welded(tilted(torus(80.0, 25.0, 20)));
  CHECK(ring.vertices.size() == 400);
  CHECK(ring.triangles.size() == 800);
}

TEST_CASE("triangle mesh: a corner moves by half a step at most, and short numbers do not move") {
  for (const TriangleSoup& soup :
       {tilted(ball(45.0, 10)), moved(tilted(ball(45.0, 10)), {3000.0, 5.0, -70.0})}) {
    const TriangleMesh mesh = welded(soup);
    CHECK(mesh.step_m <= 0.09 / (1 << 28));
    double farthest_m = 0.0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      for (std::size_t k = 0; k < 3; ++k) {
        const Point there_m = 1e-3 * soup.corners[3 * t + k];
        farthest_m = std::max(
            farthest_m, (mesh.vertex_m(mesh.triangles[t][k]) - there_m).cwiseAbs().maxCoeff());
      }
    }
    CHECK(farthest_m <= 0.5001 * mesh.step_m + 1e-15);
    for (const Eigen::Vector3i& vertex : mesh.vertices) {
      CHECK(vertex.cwiseAbs().maxCoeff() <= largest_coordinate);
    }
  }
  const TriangleMesh mesh = welded(box(75.0, 50.5, 120.25));
  CHECK(mesh.vertex_m(1).cwiseAbs().maxCoeff() <= 0.12025 * (1.0 + 1e-15));
  CHECK(measure(mesh).volume_m3 == doctest::Approx(75e-3 * 50.5e-3 * 120.25e-3).epsilon(1e-14));
}

TEST_CASE("triangle mesh: box and prism are measured to rounding, however they lie") {
  for (const bool tilt : {false, true}) {
    const auto laid = [&](const TriangleSoup& soup) { return tilt ? tilted(soup) : soup; };
    const TriangleSoup block = laid(box(75.0, 50.0, 120.0, 3));
    CHECK(volume_mm3(block) == doctest::Approx(75.0 * 50.0 * 120.0).epsilon(rounding));
    CHECK(area_mm2(block) ==
          doctest::Approx(2.0 * (75.0 * 50.0 + 50.0 * 120.0 + 120.0 * 75.0)).epsilon(rounding));
    for (const int n : {3, 4, 7, 50}) {
      // A regular n-gon of radius R has the area n/2 R^2 sin(2 pi/n), the side 2 R sin(pi/n).
      const double section = n / 2.0 * 40.0 * 40.0 * std::sin(2.0 * pi / n);
      const TriangleSoup upright = laid(prism(n, 40.0, 90.0));
      CHECK(volume_mm3(upright) == doctest::Approx(section * 90.0).epsilon(rounding));
      CHECK(area_mm2(upright) ==
            doctest::Approx(2.0 * section + n * 80.0 * std::sin(pi / n) * 90.0).epsilon(rounding));
    }
  }
}

TEST_CASE("triangle mesh: ball, cylinder and ring come nearer with the square of the facets") {
  struct Round {
    const char* name;
    TriangleSoup coarse, fine;
    double volume, area;
  };
  const double r = 45.0;
  const Round rounds[] = {
      {"ball", ball(r, 20), ball(r, 40), 4.0 / 3.0 * pi * r * r * r, 4.0 * pi * r * r},
      {"cylinder",
       prism(40, r, 100.0),
       prism(80, r, 100.0),
       pi * r * r * 100.0,
       2.0 * pi * r * (r + 100.0)},
      {"ring",
       torus(80.0, 25.0, 40),
       torus(80.0, 25.0, 80),
       2.0 * pi * pi * 80.0 * 25.0 * 25.0,
       4.0 * pi * pi * 80.0 * 25.0}};
  for (const Round& round : rounds) {
    CAPTURE(round.name);
    const double coarse = round.volume - volume_mm3(round.coarse);
    const double fine = round.volume - volume_mm3(round.fine);
    CHECK(coarse > 0.0);  // corners lie on the surface, and the outer parts are lost
    CHECK(coarse < 0.02 * round.volume);
    CHECK(coarse / fine == doctest::Approx(4.0).epsilon(0.02));
    CHECK((round.area - area_mm2(round.coarse)) / (round.area - area_mm2(round.fine)) ==
          doctest::Approx(4.0).epsilon(0.02));
  }
}

TEST_CASE("triangle mesh: the centroid is that of the volume") {
  // Of a pyramid at a quarter of its height, wherever it stands.
  TriangleSoup pyramid;
  const Point top{50.0, 50.0, 80.0};
  const Point base[] = {{0.0, 0.0, 0.0}, {100.0, 0.0, 0.0}, {100.0, 100.0, 0.0}, {0.0, 100.0, 0.0}};
  add(pyramid, base[3], base[2], base[1], base[0]);
  for (std::size_t i = 0; i < 4; ++i) add(pyramid, base[i], base[(i + 1) % 4], top);
  for (const Point& by : {Point{0.0, 0.0, 0.0}, Point{500.0, -300.0, 1000.0}}) {
    const Point expected_m = 1e-3 * (Point{50.0, 50.0, 20.0} + by);
    CHECK((measure(welded(moved(pyramid, by))).centroid_m - expected_m).norm() < 1e-9);
  }
}

TEST_CASE("triangle mesh: the box around it") {
  const Region::Box box_m =
      measure(welded(moved(box(75.0, 50.0, 120.0), {-5.0, 7.0, 9.0}))).bounds_m;
  CHECK((box_m.low_m - 1e-3 * Point{-5.0, 7.0, 9.0}).norm() < 1e-9);
  CHECK((box_m.high_m - 1e-3 * Point{70.0, 57.0, 129.0}).norm() < 1e-9);
}

TEST_CASE("triangle mesh: doubled areas at the largest coordinates are exact") {
  TriangleMesh mesh{Point::Zero(), 1.0, {}, {}};
  const int far = largest_coordinate;
  mesh.vertices = {{-far, -far, 0}, {far, far, 0}, {far - 1, far - 1, 0}, {far, far - 1, 0}};
  CHECK(doubled_area(mesh, {0, 1, 2}).isZero());
  // (2f, 2f) x (2f, 2f - 1) = 2f (2f - 1) - 4f^2 = -2f.
  CHECK(doubled_area(mesh, {0, 1, 3}).z() == -2 * std::int64_t{far});
}

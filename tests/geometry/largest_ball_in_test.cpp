#include "geometry/largest_ball_in.h"

#include <cmath>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "geometry/check_mesh.h"
#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

struct Case {
  const char* name;
  TriangleSoup soup;
  double radius_mm;  ///< of the largest ball in the facets
};

MeshRegion region_of(const TriangleSoup& soup) {
  return check_mesh(soup, Lengths::millimetre, {"a.stl"}, {}).region;
}

TriangleSoup pyramid(double side, double height) {
  TriangleSoup soup;
  const Point base[] = {{0.0, 0.0, 0.0}, {side, 0.0, 0.0}, {side, side, 0.0}, {0.0, side, 0.0}};
  add(soup, base[3], base[2], base[1], base[0]);
  for (std::size_t i = 0; i < 4; ++i) {
    add(soup, base[i], base[(i + 1) % 4], {side / 2.0, side / 2.0, height});
  }
  return soup;
}

/// Two cubes and a narrower bar between; the second cube is the larger one.
TriangleSoup dumb_bell() {
  const double x[] = {0.0, 40.0, 90.0, 132.0};
  const double half[] = {20.0, 10.0, 21.0};
  TriangleSoup soup;
  const auto at = [&](double along, double y, double z) -> Point { return {along, y, z}; };
  const auto corner = [&](double along, double h, int k) {
    constexpr int y[] = {-1, 1, 1, -1};
    constexpr int z[] = {-1, -1, 1, 1};
    return at(along, h * y[k % 4], h * z[k % 4]);
  };
  for (int part = 0; part < 3; ++part) {
    for (int k = 0; k < 4; ++k) {
      add(soup,
          corner(x[part], half[part], k),
          corner(x[part], half[part], k + 1),
          corner(x[part + 1], half[part], k + 1),
          corner(x[part + 1], half[part], k));
    }
  }
  soup = turned_inside_out(soup);
  add(soup,
      corner(x[0], 20.0, 3),
      corner(x[0], 20.0, 2),
      corner(x[0], 20.0, 1),
      corner(x[0], 20.0, 0));
  add(soup,
      corner(x[3], 21.0, 0),
      corner(x[3], 21.0, 1),
      corner(x[3], 21.0, 2),
      corner(x[3], 21.0, 3));
  for (int k = 0; k < 4; ++k) {  // the shoulders
    add(soup,
        corner(x[1], 20.0, k),
        corner(x[1], 20.0, k + 1),
        corner(x[1], 10.0, k + 1),
        corner(x[1], 10.0, k));
    add(soup,
        corner(x[2], 10.0, k),
        corner(x[2], 10.0, k + 1),
        corner(x[2], 21.0, k + 1),
        corner(x[2], 21.0, k));
  }
  return soup;
}

std::vector<Case> cases() {
  constexpr double pi = std::numbers::pi;
  const double a = 90.0;
  const double h = 70.0;
  return {
      {"cube", box(75.0, 75.0, 75.0), 37.5},
      {"block", box(75.0, 50.0, 120.0, 4), 25.0},
      {"plate", box(150.0, 150.0, 12.0), 6.0},
      {"plate of many facets", box(60.0, 60.0, 12.0, 10), 6.0},
      // The circle in a regular n-gon of radius R has the radius R cos(pi/n).
      {"rod", prism(48, 30.0, 200.0), 30.0 * std::cos(pi / 48.0)},
      {"disc", prism(40, 50.0, 30.0), 15.0},
      {"triangular prism", prism(3, 50.0, 200.0), 25.0},
      // In the plane of a face's height: r = a h / (a + sqrt(a^2 + 4 h^2)).
      {"pyramid", pyramid(a, h), a * h / (a + std::sqrt(a * a + 4.0 * h * h))},
      {"dumb-bell", dumb_bell(), 21.0},
  };
}

constexpr double rounding = 1e-8;

}  // namespace

TEST_CASE("largest ball: within a thousandth of the known radius, and the bounds hold it") {
  for (const Case& known : cases()) {
    CAPTURE(known.name);
    const MeshRegion region = region_of(tilted(known.soup));
    const LargestBall ball = largest_ball_in(region);
    CHECK(1e3 * ball.radius_m <= known.radius_mm * (1.0 + rounding));
    CHECK(1e3 * ball.radius_m >= known.radius_mm * (1.0 - ball_accuracy));
    CHECK(1e3 * ball.at_most_radius_m >= known.radius_mm * (1.0 - rounding));
    CHECK(ball.at_most_radius_m <= ball.radius_m * (1.0 + ball_accuracy) * (1.0 + rounding));

    // The ball fits: its centre is inside, and as far as that from every triangle.
    const TriangleMesh& mesh = region.mesh();
    const Point centre = (ball.centre_m - mesh.origin_m) / mesh.step_m;
    CHECK(region.holds(centre));
    double least = INFINITY;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
      least = std::min(least, region.tree().distance(centre, static_cast<int>(t)));
    }
    CHECK(least * mesh.step_m == doctest::Approx(ball.radius_m).epsilon(1e-9));
  }
}

TEST_CASE("largest ball: a finer accuracy is kept too") {
  for (const Case& known : {cases()[0], cases()[7], cases()[8]}) {
    CAPTURE(known.name);
    const LargestBall ball = largest_ball_in(region_of(tilted(known.soup)), 1e-4);
    CHECK(1e3 * ball.radius_m == doctest::Approx(known.radius_mm).epsilon(1e-4));
    CHECK(1e3 * ball.at_most_radius_m == doctest::Approx(known.radius_mm).epsilon(1.1e-4));
  }
}

TEST_CASE("largest ball: balls, rings and shells, to the square of their facets") {
  // Corners on the surface, facets below it: by R (1 - cos) of the half diagonal's angle at most.
  const auto facets_mm = [](double radius_mm, int n) {
    return radius_mm * (1.0 - std::cos(std::sqrt(2.0) * std::numbers::pi / n));
  };
  const LargestBall whole = largest_ball_in(region_of(tilted(ball(45.0, 24))));
  CHECK(1e3 * whole.at_most_radius_m >= 45.0 - facets_mm(45.0, 48));
  CHECK(1e3 * whole.radius_m <= 45.0);
  CHECK(1e3 * whole.radius_m >= (45.0 - facets_mm(45.0, 48)) * (1.0 - ball_accuracy));
  CHECK(whole.centre_m.norm() < 0.1e-3);

  // Many places are as large in a ring and in a shell: a rougher search will do.
  constexpr double rough = 1e-2;
  const LargestBall ring = largest_ball_in(region_of(torus(80.0, 25.0, 24)), rough);
  CHECK(1e3 * ring.radius_m <= 25.0);
  CHECK(1e3 * ring.radius_m >= (25.0 - facets_mm(25.0, 24)) * (1.0 - rough));
  const double to_ring_mm =
      std::hypot(1e3 * ring.centre_m.head<2>().norm() - 80.0, 1e3 * ring.centre_m.z());
  CHECK(to_ring_mm < facets_mm(105.0, 24) + 25.0 * rough);

  // Between the facets outside (inwards of the ball) and the corners inside: 20 mm at most.
  TriangleSoup hollow = ball(60.0, 12);
  append(hollow, turned_inside_out(ball(20.0, 12)));
  const LargestBall shell = largest_ball_in(region_of(hollow), rough);
  CHECK(1e3 * shell.at_most_radius_m >= 20.0 - facets_mm(60.0, 24) / 2.0);
  CHECK(1e3 * shell.radius_m <= 20.0 + facets_mm(20.0, 24) / 2.0);
}

TEST_CASE("largest ball: the same every time, and in the middle where all places are alike") {
  const MeshRegion region = region_of(box(150.0, 150.0, 12.0));
  const LargestBall one = largest_ball_in(region);
  const LargestBall two = largest_ball_in(region);
  CHECK(one.centre_m == two.centre_m);
  CHECK(one.radius_m == two.radius_m);
  CHECK((one.centre_m - Point{0.075, 0.075, 0.006}).norm() < 1e-8);
}

TEST_CASE("largest ball: cut short, the bounds still hold the radius") {
  for (const Case& known : cases()) {
    CAPTURE(known.name);
    const MeshRegion region = region_of(tilted(known.soup));
    for (const std::int64_t work : {1, 100, 1000}) {
      const LargestBall ball = largest_ball_in(region, ball_accuracy, work);
      CHECK(1e3 * ball.radius_m <= known.radius_mm * (1.0 + rounding));
      CHECK(1e3 * ball.at_most_radius_m >= known.radius_mm * (1.0 - rounding));
    }
  }
}

TEST_CASE("largest ball: a search of some work says between which sizes it is") {
  // To this accuracy the search for a better ball goes on for long.
  constexpr std::int64_t most_work = 5'000'000;
  std::vector<std::string> said;
  const MeshRegion region = region_of(dumb_bell());
  const LargestBall told = largest_ball_in(
      region, 1e-12, most_work, [&](const std::string& what) { said.push_back(what); });
  REQUIRE_FALSE(said.empty());
  CHECK(said.front().find("looking for the largest ball that fits: ") == 0);
  CHECK(said.size() <= 5);  // one for each million of work
  CHECK(told.radius_m == largest_ball_in(region, 1e-12, most_work).radius_m);
}

#include "geometry/check_mesh.h"

#include <cmath>
#include <numbers>
#include <random>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

#include "base/error.h"
#include "geometry/stl_shapes.h"
#include "message_of.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

CheckedMesh check(const TriangleSoup& soup, Lengths unit = Lengths::millimetre) {
  return check_mesh(soup, unit, {"a.stl"}, {});
}
std::string message(const TriangleSoup& soup, Lengths unit = Lengths::millimetre) {
  return message_of([&] { check(soup, unit); });
}
double volume_mm3(const CheckedMesh& checked) {
  return measure(checked.region.mesh()).volume_m3 * 1e9;
}

/// Without the triangles from first to last (not with it).
TriangleSoup without(TriangleSoup soup, int first, int last) {
  soup.corners.erase(soup.corners.begin() + 3 * first, soup.corners.begin() + 3 * last);
  return soup;
}

TriangleSoup joined(TriangleSoup one, const TriangleSoup& two) {
  append(one, two);
  return one;
}

constexpr double rounding = 1e-9;  // of a volume: corners lie on the lattice within 1e-9 of a side

}  // namespace

TEST_CASE("check mesh: sound solids pass without a word") {
  for (const TriangleSoup& soup : {box(75.0, 50.0, 120.0),
                                   box(75.0, 50.0, 120.0, 5),
                                   ball(45.0, 12),
                                   prism(3, 50.0, 100.0),
                                   prism(64, 50.0, 20.0),
                                   torus(80.0, 25.0, 24)}) {
    CHECK(check(soup).notes.empty());
    CHECK(check(tilted(soup)).notes.empty());
    CHECK(check(moved(soup, {1000.0, -2000.0, 500.0})).notes.empty());
    CHECK(check(parse_stl(binary_stl(tilted(soup)), "a.stl")).notes.empty());
    CHECK(check(parse_stl(text_stl(tilted(soup)), "a.stl")).notes.empty());
  }
}

TEST_CASE("check mesh: inches are 25.4 mm") {
  const double cubic_inches = 3.0 * 2.0 * 5.0;
  CHECK(volume_mm3(check(box(3.0, 2.0, 5.0), Lengths::inch)) ==
        doctest::Approx(cubic_inches * 25.4 * 25.4 * 25.4).epsilon(rounding));
}

TEST_CASE("check mesh: an open surface is refused with its edges and the place of the hole") {
  CHECK(message(without(box(75.0, 50.0, 120.0), 0, 1)) ==
        "a.stl: the surface is open: 3 edges of 11 triangles have no neighbour, in 1 hole; the "
        "largest, 130 mm across, is around (0, 25, 60) mm; fill the holes in the program that made "
        "the model and export it again");
  // Two holes: five squares of a strip from pole to pole, and a triangle at the pole. The larger is
  // named.
  const std::string two = message(without(without(ball(50.0, 12), 199, 209), 0, 1));
  CHECK(
      two.starts_with("a.stl: the surface is open: 15 edges of 517 triangles have no neighbour, "
                      "in 2 holes; the largest, "));
  const std::string inch = message(without(box(3.0, 2.0, 5.0), 0, 2), Lengths::inch);
  CHECK(inch.find("5.39 in across, is around (0, 1, 2.5) in") != std::string::npos);
}

TEST_CASE(
    "check mesh: a corner that lies on the side of another triangle leaves the surface open") {
  TriangleSoup soup = without(box(60.0, 60.0, 60.0), 0, 2);
  // The face x = 0 anew, in a fan about the middle of its lower side.
  const Point middle{0.0, 30.0, 0.0};
  add(soup, middle, {0.0, 0.0, 0.0}, {0.0, 0.0, 60.0});
  add(soup, middle, {0.0, 0.0, 60.0}, {0.0, 60.0, 60.0});
  add(soup, middle, {0.0, 60.0, 60.0}, {0.0, 60.0, 0.0});
  CHECK(message(soup).starts_with("a.stl: the surface is open: 3 edges of 13 triangles"));
  // With the triangle without area between the three corners it is closed, and the triangle is
  // left out again.
  add(soup, {0.0, 0.0, 0.0}, middle, {0.0, 60.0, 0.0});
  const CheckedMesh checked = check(soup);
  REQUIRE(checked.notes.size() == 1);
  CHECK(checked.notes[0] == "1 triangle without area was left out");
  CHECK(volume_mm3(checked) == doctest::Approx(216e3).epsilon(rounding));
}

TEST_CASE("check mesh: edges of more than two triangles are refused with the first") {
  const TriangleSoup cube = box(50.0, 50.0, 50.0);
  CHECK(message(joined(cube, moved(cube, {50.0, 50.0, 0.0}))) ==
        "a.stl: the surface branches: 1 edge is shared by more than two triangles, one from (50, "
        "50, 0) mm to (50, 50, 50) mm; remove double faces and inner walls, or join (unite) the "
        "parts, in the program that made the model");
  CHECK(message(joined(cube, cube))
            .starts_with("a.stl: the surface branches: 18 edges are shared by more than two"));
}

TEST_CASE("check mesh: triangles that face the wrong way are turned, and it is said") {
  TriangleSoup soup = box(75.0, 50.0, 120.0, 3);
  for (const std::size_t triangle : {4u, 5u, 77u}) {
    std::swap(soup.corners[3 * triangle], soup.corners[3 * triangle + 1]);
  }
  const CheckedMesh checked = check(soup);
  REQUIRE(checked.notes.size() == 1);
  CHECK(checked.notes[0] == "3 triangles of 108 faced the wrong way and were turned");
  CHECK(volume_mm3(checked) == doctest::Approx(75.0 * 50.0 * 120.0).epsilon(rounding));
}

TEST_CASE("check mesh: every choice of wrong triangles gives the same solid") {
  std::mt19937 random{3};
  for (int i = 0; i < 10; ++i) {
    TriangleSoup soup = torus(80.0, 25.0, 10);
    const double volume = volume_mm3(check(soup));
    for (std::size_t k = 0; k < soup.corners.size(); k += 3) {
      if (random() % 2 == 0) std::swap(soup.corners[k], soup.corners[k + 1]);
    }
    CHECK(volume_mm3(check(soup)) == doctest::Approx(volume).epsilon(rounding));
  }
}

TEST_CASE("check mesh: a surface that is inside out is turned, and it is said") {
  const CheckedMesh checked = check(turned_inside_out(ball(45.0, 12)));
  REQUIRE(checked.notes.size() == 1);
  CHECK(checked.notes[0] == "the whole surface was inside out and was turned");
  CHECK(volume_mm3(checked) > 0.0);
}

TEST_CASE("check mesh: a surface of one side is refused") {
  // Klein's bottle, as a figure of eight turned by half a turn on its way round.
  constexpr int n = 24;
  const auto at = [](int i, int k) -> Point {
    if (i == n) k = 2 * n - 1 - k;  // the figure meets itself mirrored
    const double round = 2.0 * std::numbers::pi * (i % n) / n;
    const double v = 2.0 * std::numbers::pi * (k % n + 0.5) / n;  // no corner where it crosses
    const double out = 60.0 + 20.0 * (std::cos(round / 2.0) * std::sin(v) -
                                      std::sin(round / 2.0) * std::sin(2.0 * v));
    const double up =
        20.0 * (std::sin(round / 2.0) * std::sin(v) + std::cos(round / 2.0) * std::sin(2.0 * v));
    return {out * std::cos(round), out * std::sin(round), up};
  };
  TriangleSoup soup;
  for (int i = 0; i < n; ++i) {
    for (int k = 0; k < n; ++k) {
      add(soup, at(i, k), at(i + 1, k), at(i + 1, k + 1), at(i, k + 1));
    }
  }
  CHECK(message(soup).starts_with(
      "a.stl: the surface has one side only, like a twisted ring: no choice of an outer side fits "
      "at ("));
}

TEST_CASE("check mesh: solids that overlap are refused with a place where they cross") {
  const TriangleSoup cube = box(50.0, 50.0, 50.0);
  const std::string text = message(joined(cube, moved(cube, {30.0, 20.0, 10.0})));
  CHECK(text.starts_with("a.stl: the surface crosses itself near ("));
  CHECK(
      text.ends_with("mm; join (unite) parts that overlap, and repair the model, in the program "
                     "that made it"));
  // By a hundredth of a millimetre too.
  CHECK(message(joined(cube, moved(tilted(cube), {0.0, 0.0, 49.99}))).find("crosses itself") !=
        std::string::npos);
}

TEST_CASE("check mesh: a single surface that goes through itself is refused") {
  // A ring whose tube is thicker than its hole: it meets itself near the axis.
  // A ball with its upper pole pushed out through the lower.
  const TriangleSoup pushed = mapped(ball(45.0, 12), [](const Point& p) -> Point {
    return p.z() > 44.9 ? Point{0.0, 0.0, -60.0} : p;
  });
  CHECK(message(pushed).find("crosses itself near (") != std::string::npos);
}

TEST_CASE("check mesh: a surface that goes through itself along an edge is refused") {
  // An upright figure of eight: its sides meet in a line that is an edge of all four, but no two
  // have the same edge, so that no triangles cross and none share more than they should.
  const Point crossing{0.0, 0.0, 0.0};
  const Point left[] = {{-40.0, -30.0, 0.0}, {-40.0, 30.0, 0.0}};
  const Point right[] = {{60.0, 45.0, 0.0}, {60.0, -45.0, 0.0}};
  const Point up{0.0, 0.0, 60.0};
  TriangleSoup soup;
  const auto side = [&](const Point& from, const Point& to, double part) {
    const Point between = crossing + part * up;  // the corner in the crossing line
    add(soup, from, crossing, between);
    add(soup, from, between, from + up);
    add(soup, from + up, between, crossing + up);
    add(soup, crossing, to, between);
    add(soup, between, to, to + up);
    add(soup, between, to + up, crossing + up);
  };
  side(left[0], right[0], 0.5);
  side(right[1], left[1], 0.3);
  add(soup, right[0], right[1], right[1] + up, right[0] + up);
  add(soup, left[1], left[0], left[0] + up, left[1] + up);
  add(soup, crossing, right[1], right[0]);
  add(soup, crossing, left[0], left[1]);
  add(soup, crossing + up, right[0] + up, right[1] + up);
  add(soup, crossing + up, left[1] + up, left[0] + up);
  CHECK(message(soup).starts_with("a.stl: the surface does not part inside from outside near ("));
  CHECK(message(tilted(soup))
            .starts_with("a.stl: the surface does not part inside from outside near ("));
}

TEST_CASE("check mesh: a surface that only touches itself is sound") {
  // A ring whose tube is wider than the ring: its inner part closes a hollow off, which touches the
  // outer part at two points of the axis.
  const TriangleSoup ring = torus(20.0, 30.0, 24);
  CHECK(check(ring).notes.empty());
  CHECK(check(tilted(ring)).notes.empty());
}

TEST_CASE("check mesh: separate pieces are refused, and touching counts as separate") {
  const TriangleSoup cube = box(50.0, 50.0, 50.0);
  const TriangleSoup small = box(5.0, 5.0, 5.0);
  CHECK(message(joined(cube, moved(small, {100.0, 0.0, 0.0}))) ==
        "a.stl: the model is 2 separate pieces; the second largest, near (105, 0, 0) mm, has 0.1 % "
        "of the volume of the largest; join (unite) what is one casting, remove crumbs, and give "
        "each casting a file of its own: pieces cool each for itself");
  CHECK(message(joined(cube, moved(small, {50.0, 10.0, 10.0}))).find("2 separate pieces") !=
        std::string::npos);
}

TEST_CASE("check mesh: hollows are taken as empty, and it is said") {
  const TriangleSoup cube = box(50.0, 50.0, 50.0);
  const TriangleSoup inner = moved(box(10.0, 10.0, 10.0), {20.0, 20.0, 20.0});
  for (const TriangleSoup& soup :
       {joined(cube, turned_inside_out(inner)), joined(turned_inside_out(inner), cube)}) {
    const CheckedMesh checked = check(soup);
    REQUIRE(checked.notes.size() == 1);
    CHECK(checked.notes[0] == "1 closed hollow inside, 0.8 % of the volume: taken as empty");
    CHECK(volume_mm3(checked) == doctest::Approx(124e3).epsilon(rounding));
  }
  const CheckedMesh turned = check(joined(turned_inside_out(cube), inner));
  CHECK(turned.notes.size() == 2);
  CHECK(volume_mm3(turned) == doctest::Approx(124e3).epsilon(rounding));
}

TEST_CASE("check mesh: glass within glass and glass in a hollow are refused") {
  const TriangleSoup cube = box(50.0, 50.0, 50.0);
  const TriangleSoup inner = moved(box(10.0, 10.0, 10.0), {20.0, 20.0, 20.0});
  CHECK(message(joined(cube, inner)) ==
        "a.stl: a surface inside the piece, near (30, 20, 20) mm, faces the same way as the outer "
        "one: glass within glass; remove it, or turn its normals towards the hollow if it is one");
  const TriangleSoup core = moved(box(4.0, 4.0, 4.0), {23.0, 23.0, 23.0});
  CHECK(message(joined(joined(cube, turned_inside_out(inner)), core)).find("2 separate pieces") !=
        std::string::npos);
}

TEST_CASE("check mesh: a sheet of two sides encloses nothing") {
  TriangleSoup sheet;
  add(sheet, {0.0, 0.0, 0.0}, {90.0, 0.0, 0.0}, {0.0, 90.0, 0.0});
  CHECK(message(joined(sheet, turned_inside_out(sheet))) ==
        "a.stl: a surface encloses nothing: two sides that lie on each other, near (90, 0, 0) mm; "
        "give it a thickness, or remove it, in the program that made the model");
}

TEST_CASE("check mesh: corners a hair apart are joined, and it is said") {
  std::mt19937 random{5};
  std::uniform_real_distribution<double> hair{-2e-5, 2e-5};
  const TriangleSoup soup = mapped(tilted(ball(50.0, 12)), [&](const Point& p) -> Point {
    return p + Point{hair(random), hair(random), hair(random)};
  });
  const CheckedMesh checked = check(soup);
  REQUIRE_FALSE(checked.notes.empty());
  CAPTURE(checked.notes[0]);
  CHECK(checked.notes[0].find("corners of open edges, less than 0.0001 mm apart, were joined") !=
        std::string::npos);
  // Ten times as far apart they are not.
  const TriangleSoup torn = mapped(tilted(ball(50.0, 12)), [&](const Point& p) -> Point {
    return p + 10.0 * Point{hair(random), hair(random), hair(random)};
  });
  CHECK(message(torn).find("the surface is open") != std::string::npos);
}

TEST_CASE("check mesh: triangles without area are left out, and it is said") {
  TriangleSoup soup = box(75.0, 50.0, 120.0);
  add(soup, {0.0, 0.0, 0.0}, {0.0, 0.0, 0.0}, {75.0, 50.0, 120.0});
  add(soup, {9.0, 9.0, 9.0}, {9.0, 9.0, 9.0}, {9.0, 9.0, 9.0});
  const CheckedMesh checked = check(soup);
  REQUIRE(checked.notes.size() == 1);
  CHECK(checked.notes[0] == "2 triangles without area were left out");
  TriangleSoup nothing;
  add(nothing, {0.0, 0.0, 0.0}, {90.0, 0.0, 0.0}, {90.0, 0.0, 0.0});
  CHECK(message(nothing) == "a.stl: no triangle has an area; export the model again");
  TriangleSoup line;  // closed, of triangles on a line
  add(line, {0.0, 0.0, 0.0}, {90.0, 0.0, 0.0}, {30.0, 0.0, 0.0});
  append(line, turned_inside_out(line));
  CHECK(message(line) == "a.stl: no triangle has an area; export the model again");
}

TEST_CASE("check mesh: triangles that 4-byte numbers turn over are no crossings, near or far") {
  // A cube with a face in which triangles without area lie between others. Turned and rounded they
  // are slivers that face either way, and their neighbours overlap by the rounding.
  TriangleSoup cube = without(box(60.0, 60.0, 60.0), 0, 2);
  const Point above{0.0, 0.0, 60.0};
  const auto on_edge = [](int i) -> Point { return {0.0, 5.0 * i, 0.0}; };
  for (int i = 0; i < 12; ++i) {
    add(cube, on_edge(i), above, on_edge(i + 1));
    if (i > 0) add(cube, on_edge(0), on_edge(i), on_edge(i + 1));
  }
  add(cube, on_edge(12), above, {0.0, 60.0, 60.0});
  for (int i = 0; i < 20; ++i) {
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd{0.1 + 0.07 * i, Point{1.0, 0.5 * i, 3.0}.normalized()}.toRotationMatrix();
    const TriangleSoup turned = mapped(cube, [&](const Point& p) -> Point { return turn * p; });
    for (const double away : {0.0, 200.0, 1e4, 1e5}) {
      CAPTURE(i);
      CAPTURE(away);
      const std::string bytes = binary_stl(moved(turned, {away, -0.3 * away, 0.1 * away}));
      CHECK(message(parse_stl(bytes, "a.stl")) == "no error");
    }
  }
}

TEST_CASE("check mesh: a size no casting has asks for the unit") {
  CHECK(
      message(box(3000.0, 1000.0, 1000.0), Lengths::inch) ==
      "a.stl: a piece of 7.62e+04 x 2.54e+04 x 2.54e+04 mm, its longest side outside 3..3000 mm: "
      "mm or inch? the file's numbers are 3000 x 1000 x 1000, taken as inch; in mm the piece would "
      "be 3000 x 1000 x 1000 mm: say so if that is its size, else scale the model to mm and save "
      "it again");
  CHECK(message(box(2.0, 1.0, 1.0)) ==
        "a.stl: a piece of 2 x 1 x 1 mm, its longest side outside 3..3000 mm: mm or inch? the "
        "file's numbers are 2 x 1 x 1, taken as mm; in inch the piece would be 50.8 x 25.4 x 25.4 "
        "mm: "
        "say so if that is its size, else scale the model to mm and save it again");
  // In metres: neither fits.
  CHECK(message(box(0.075, 0.05, 0.1)).find("which does not fit either: scale the model") !=
        std::string::npos);
  CHECK(message(box(1e30, 1e30, 1e30)).find("mm or inch?") != std::string::npos);
  CHECK(message(box(1e200, 1e-300, 1.0)).find("mm or inch?") != std::string::npos);
}

TEST_CASE("check mesh: what it does is told to who waits") {
  std::vector<std::string> told;
  check_mesh(box(75.0, 50.0, 120.0), Lengths::millimetre, {"a.stl"}, [&](const std::string& what) {
    told.push_back(what);
  });
  CHECK(told == std::vector<std::string>{"joining the corners of 12 triangles",
                                         "looking at the edges of 12 triangles",
                                         "looking for crossings of 12 triangles"});
}

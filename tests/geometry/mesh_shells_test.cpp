#include "geometry/mesh_shells.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "geometry/stl_shapes.h"
#include "message_of.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

struct Turned {
  TriangleMesh mesh;
  std::vector<std::string> notes;
};

Turned turned(const TriangleSoup& soup) {
  const Place place{"a.stl"};
  TriangleMesh mesh = weld(soup, Lengths::millimetre, place);
  const Shells shells =
      orient(mesh, partners(mesh, Lengths::millimetre, place), Lengths::millimetre, place);
  const MeshTree tree{mesh};
  std::vector<std::string> notes = turn_shells_out(mesh, tree, shells, Lengths::millimetre, place);
  return {std::move(mesh), std::move(notes)};
}

TriangleSoup bubbles(int count) {
  TriangleSoup soup;
  for (int i = 0; i < count; ++i) {
    const Point corner{6.0 * (i % 10), 6.0 * (i / 10 % 10), 6.0 * (i / 100)};
    append(soup, turned_inside_out(moved(box(2.0, 2.0, 2.0), corner)));
  }
  return soup;
}

}  // namespace

TEST_CASE("mesh shells: many hollows are counted, and a limit is kept") {
  TriangleSoup soup = moved(box(80.0, 80.0, 80.0), {-5.0, -5.0, -5.0});
  append(soup, bubbles(999));
  const Turned result = turned(soup);
  REQUIRE(result.notes.size() == 1);
  // 999 of 8 mm3 in 512 000 mm3.
  CHECK(result.notes[0] == "999 closed hollows inside, 1.6 % of the volume: taken as empty");
  CHECK(measure(result.mesh).volume_m3 * 1e9 == doctest::Approx(512e3 - 7992.0));
  append(soup, moved(bubbles(1), {0.0, 0.0, 66.0}));
  CHECK(message_of([&] { turned(soup); }) ==
        "a.stl: the model is 1001 separate surfaces, more than 1000; join (unite) what is one "
        "casting, and remove crumbs");
}

TEST_CASE(
    "mesh shells: a ring through a ring is two pieces, though their boxes lie in each other") {
  TriangleSoup soup = torus(80.0, 15.0, 20);
  append(soup, mapped(torus(80.0, 15.0, 20), [](const Point& p) -> Point {
           return {p.x() + 80.0, p.z(), -p.y()};
         }));
  CHECK(message_of([&] { turned(soup); }).find("2 separate pieces") != std::string::npos);
}

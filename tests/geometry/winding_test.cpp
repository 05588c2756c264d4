#include "geometry/winding.h"

#include <doctest/doctest.h>

#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

bool wrong(const TriangleSoup& soup) {
  const TriangleMesh mesh = weld(soup, Lengths::millimetre, {"a.stl"});
  return find_wrong_winding(mesh, MeshTree{mesh}, negligible_steps(mesh)).has_value();
}

TriangleSoup joined(TriangleSoup one, const TriangleSoup& two) {
  append(one, two);
  return one;
}

const TriangleSoup cube = box(60.0, 60.0, 60.0, 2);
const TriangleSoup inner = moved(box(20.0, 20.0, 20.0, 2), {20.0, 20.0, 20.0});

}  // namespace

TEST_CASE("winding: right for solids, with hollows, and beside each other") {
  for (const TriangleSoup& soup : {cube,
                                   torus(80.0, 25.0, 12),
                                   joined(cube, turned_inside_out(inner)),
                                   joined(cube, moved(cube, {70.0, 5.0, 5.0}))}) {
    CHECK_FALSE(wrong(soup));
    CHECK_FALSE(wrong(tilted(soup)));
  }
}

TEST_CASE("winding: wrong for glass in glass, for what is inside out, and for two in one place") {
  for (const TriangleSoup& soup : {joined(cube, inner),
                                   turned_inside_out(cube),
                                   joined(turned_inside_out(cube), inner),
                                   joined(cube, moved(cube, {0.01, 0.02, 0.03}))}) {
    CHECK(wrong(soup));
    CHECK(wrong(tilted(soup)));
  }
}

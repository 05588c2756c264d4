#include "geometry/chords.h"

#include <cmath>

#include <doctest/doctest.h>

#include "geometry/check_mesh.h"
#include "geometry/stl_shapes.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

/// A bundle about a place in mm, with the surface `ahead_mm` above and `behind_mm` below.
double half_chord_mm(const TriangleSoup& soup,
                     const Point& middle_mm,
                     double ahead_mm,
                     double behind_mm,
                     double radius_mm) {
  const CheckedMesh checked = check_mesh(soup, Lengths::millimetre, {"a.stl"}, {});
  const TriangleMesh& mesh = checked.region.mesh();
  const double steps = 1e-3 / mesh.step_m;
  const Point middle = (1e-3 * middle_mm - mesh.origin_m) / mesh.step_m;
  const ChordBundle bundle{
      middle, Point::UnitZ(), ahead_mm * steps, behind_mm * steps, radius_mm * steps};
  return longest_half_chord(checked.region.tree(), bundle).at_most / steps;
}

}  // namespace

TEST_CASE("chords: in a plate all are its thickness") {
  CHECK(half_chord_mm(box(90.0, 90.0, 20.0, 6), {40.0, 41.0, 8.0}, 12.0, 8.0, 7.0) ==
        doctest::Approx(10.0));
}

TEST_CASE("chords: nothing is known where the column reaches a side face or a longer chord") {
  const TriangleSoup plate = box(90.0, 90.0, 20.0, 6);
  CHECK(std::isinf(half_chord_mm(plate, {7.0, 41.0, 8.0}, 12.0, 8.0, 7.5)));
  // A prism on its side: chords grow towards its ridge, beyond the tenth that is looked at.
  const TriangleSoup roof = mapped(prism(3, 60.0, 200.0), [](const Point& p) -> Point {
    return {p.y(), p.z(), p.x()};
  });
  CHECK(std::isinf(half_chord_mm(roof, {20.0, 100.0, -10.0}, 30.0, 20.0, 15.0)));
}

TEST_CASE("chords: a hollow in the column ends the chord or leaves nothing known") {
  TriangleSoup soup = box(90.0, 90.0, 60.0, 6);
  append(soup, turned_inside_out(moved(box(30.0, 30.0, 10.0), {30.0, 30.0, 25.0})));
  // Between the hollow and the top: 25 mm.
  CHECK(half_chord_mm(soup, {45.0, 45.0, 47.0}, 13.0, 12.0, 10.0) == doctest::Approx(12.5));
  // Half over its edge.
  CHECK(std::isinf(half_chord_mm(soup, {60.0, 45.0, 47.0}, 13.0, 12.0, 10.0)));
  CHECK(std::isinf(half_chord_mm(soup, {64.0, 45.0, 30.0}, 30.0, 30.0, 3.9 + 0.2)));
}

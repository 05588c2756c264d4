#include "geometry/read_solid.h"

#include <string>

#include <doctest/doctest.h>

#include "base/error.h"
#include "geometry/check_mesh.h"
#include "geometry/stl_shapes.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

std::string message(const TriangleSoup& soup, Lengths unit = Lengths::millimetre) {
  return message_of([&] { make_solid(soup, unit, {"a.stl"}, {}); });
}

}  // namespace

TEST_CASE("read solid: a file becomes a region with its measures and its largest ball") {
  const TemporaryFolder folder;
  const std::string path = folder.file("block.stl", binary_stl(box(3.0, 2.0, 5.0)));
  const Solid solid = read_solid(path, Lengths::inch, {});
  constexpr double inch_m = 0.0254;
  CHECK(solid.notes.empty());
  CHECK(solid.measures.volume_m3 == doctest::Approx(30.0 * inch_m * inch_m * inch_m));
  CHECK(solid.measures.area_m2 == doctest::Approx(62.0 * inch_m * inch_m));
  CHECK(solid.ball.radius_m == doctest::Approx(inch_m).epsilon(ball_accuracy));
  CHECK(solid.region.crossings(0, inch_m, inch_m).size() == 2);
}

TEST_CASE("read solid: a piece too thin or too thick asks for the unit") {
  CHECK(
      message(box(90.0, 60.0, 2.0)) ==
      "a.stl: the largest ball that fits measures 2 mm, outside 3..1000 mm: mm or inch? the "
      "file's numbers are 90 x 60 x 2, taken as mm; in inch the piece would be 2286 x 1524 x 50.8 "
      "mm: say so if that is its size, else scale the model to mm and save it again");
  CHECK(message(box(2000.0, 2000.0, 1500.0))
            .starts_with("a.stl: the largest ball that fits measures 1500 mm, outside 3..1000 mm"));
  // 3 m in inches by mistake: the same numbers in mm are a piece of 90 x 60 x 75 mm.
  CHECK(message(box(90.0, 60.0, 75.0), Lengths::inch)
            .find("in mm the piece would be 90 x 60 x 75 mm: say so") != std::string::npos);
}

TEST_CASE("read solid: the demonstration models pass every check") {
  struct Model {
    const char* name;
    double volume_cm3, ball_mm;
    double sides_mm[3];
  };
  // Of the pyramid and the bowl's sides: from their sizes; the rest computed, not published.
  const Model models[] = {
      {"pyramid-with-foot", 1.3 * 1.3 * 1.8 * 100.0 + 132.0 * 10.0 / 3.0, 78.5, {130, 130, 150}},
      {"bowl", 1181.3, 27.72, {200, 200, 97}},
      {"head", 993.9, 107.7, {132, 125, 154}}};
  for (const Model& model : models) {
    CAPTURE(model.name);
    const std::string path = std::string{THICKSET_SOURCE} + "/data/meshes/" + model.name + ".stl";
    const CheckedMesh checked = check_mesh(read_stl(path), Lengths::millimetre, {path}, {});
    const MeshMeasures measures = measure(checked.region.mesh());
    CHECK(checked.notes.empty());
    CHECK(measures.volume_m3 * 1e6 == doctest::Approx(model.volume_cm3).epsilon(1e-3));
    // Rougher than read_solid does, which takes minutes in a debug build with sanitizers.
    constexpr double rough = 2e-2;
    const LargestBall ball = largest_ball_in(checked.region, rough);
    CHECK(ball.radius_m * 2e3 <= model.ball_mm * (1.0 + ball_accuracy));
    CHECK(ball.radius_m * 2e3 >= model.ball_mm * (1.0 - rough));
    CHECK(ball.at_most_radius_m * 2e3 >= model.ball_mm * (1.0 - ball_accuracy));
    const Point sides_m = measures.bounds_m.high_m - measures.bounds_m.low_m;
    for (int axis = 0; axis < 3; ++axis) {
      CHECK(sides_m[axis] * 1e3 == doctest::Approx(model.sides_mm[axis]).epsilon(0.01));
    }
  }
}

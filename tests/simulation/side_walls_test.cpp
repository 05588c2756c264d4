#include "simulation/side_walls.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"
#include "simulation/example_walls.h"
#include "simulation/steady_cooling.h"
#include "slow_build.h"
#include "temporary_folder.h"

using namespace thickset;
using namespace thickset::example;

namespace {

Mould read_shipped(const std::string& name, const Place&) {
  return read_mould(data_path("moulds/" + name + ".mould"));
}

PlacedText word(const std::string& text, const std::string& option) {
  return {text, {.source = option}};
}

const std::string plaster_25 = "plaster-silica 25mm";

std::optional<SideWalls> read(const WallWords& words, const std::vector<BoxSide>& insulated = {}) {
  return read_side_walls(words, insulated, read_shipped);
}

/// A box with these sides as text, in mm.
std::string box_stl(double x, double y, double z) {
  const double corner[8][3] = {
      {0, 0, 0}, {x, 0, 0}, {x, y, 0}, {0, y, 0}, {0, 0, z}, {x, 0, z}, {x, y, z}, {0, y, z}};
  const int triangles[12][3] = {{0, 2, 1},
                                {0, 3, 2},
                                {4, 5, 6},
                                {4, 6, 7},
                                {0, 1, 5},
                                {0, 5, 4},
                                {1, 2, 6},
                                {1, 6, 5},
                                {2, 3, 7},
                                {2, 7, 6},
                                {3, 0, 4},
                                {3, 4, 7}};
  std::string text = "solid box\n";
  for (const auto& triangle : triangles) {
    text += "facet normal 0 0 0\nouter loop\n";
    for (const int at : triangle) {
      text += "vertex " + std::to_string(corner[at][0]) + ' ' + std::to_string(corner[at][1]) +
              ' ' + std::to_string(corner[at][2]) + '\n';
    }
    text += "endloop\nendfacet\n";
  }
  return text + "endsolid box\n";
}

GriddedSolid box_behind(const SideWalls& walls, double x, double y, double z) {
  const TemporaryFolder folder;
  const std::string path = folder.file("box.stl", box_stl(x, y, z));
  return read_solid_behind(path, Lengths::millimetre, walls, slab_of_mm(z).glass, std::nullopt, {});
}

/// A plate whose edges do not cool.
SideWalls plate_on(double plaster_mm, bool held) {
  const Wall no_edge{.layers = {}, .insulated = true};
  return {.elsewhere = {},
          .of_side = {{no_edge, no_edge, no_edge, no_edge, plaster(plaster_mm), {}}},
          .held = held};
}

double in_mm(Length length) {
  return length.in_mm();
}

}  // namespace

// The slab is solved by closed form (notes/conduction.md#steady-cooling); a plate eight times as
// wide as thick has a middle that knows nothing of its edges.
TEST_CASE("side walls: a wide plate on a wall is the slab with that wall at its bottom" *
          doctest::skip(slow_build)) {
  double on_thinner_mm = 0.0;
  for (const double plaster_mm : {10.0, 50.0}) {
    CAPTURE(plaster_mm);
    const GriddedSolid plate = box_behind(plate_on(plaster_mm, true), 200.0, 200.0, 50.0);
    const Casting held = on_plaster(slab_of_mm(50.0), plaster_mm, true);
    const EquivalentSlabs slab = equivalent_slabs(held);
    // grid, what is added for it, and the mean flow that stands for that of the open face
    constexpr double few_per_cent = 0.03;
    CAPTURE(in_mm(plate.shape.steady_difference));
    CAPTURE(in_mm(slab.steady_difference));
    CAPTURE(in_mm(plate.shape.permanent_tension));
    CAPTURE(in_mm(slab.permanent_tension));
    CHECK(std::abs(in_mm(plate.shape.steady_difference) / in_mm(slab.steady_difference) - 1.0) <
          few_per_cent);
    CHECK(std::abs(in_mm(plate.shape.permanent_tension) / in_mm(slab.permanent_tension) - 1.0) <
          few_per_cent);
    // The slab's own slowest mode is not known by closed form; its steady slab stands for it. The
    // mode with the wall's heat is slower.
    CHECK(in_mm(plate.shape.slowest_mode) > in_mm(slab.steady_difference));
    // Over all it exchanges as one face, and a wall's share, do.
    CHECK(in_mm(plate.shape.volume_to_surface) < 50.0);
    CHECK(in_mm(plate.shape.volume_to_surface) > 25.0);
    CHECK(plate.shape.surface_factor >= 1.0);
    CHECK(in_mm(plate.shape.steady_difference) > on_thinner_mm);
    on_thinner_mm = in_mm(plate.shape.steady_difference);
  }
}

TEST_CASE("side walls: free to bend a plate keeps what the slab does" * doctest::skip(slow_build)) {
  const GriddedSolid plate = box_behind(plate_on(25.0, false), 200.0, 200.0, 50.0);
  // The slab free to bend has its own thickness; a plate's corners have up to 1.12 of it.
  CHECK(in_mm(plate.shape.permanent_tension) > 50.0);
  CHECK(in_mm(plate.shape.permanent_tension) < 1.14 * 50.0);
}

TEST_CASE("side walls: an open top is slower than all open, and a shelf that insulates slower yet" *
          doctest::skip(slow_build)) {
  const auto difference = [](const SideWalls& walls) {
    return in_mm(box_behind(walls, 80.0, 90.0, 60.0).shape.steady_difference);
  };
  const Wall insulated{.layers = {}, .insulated = true};
  const SideWalls in_mould{.elsewhere = plaster(25.0), .of_side = {{{}, {}, {}, {}, {}, Wall{}}}};
  const SideWalls on_shelf{.elsewhere = {}, .of_side = {{{}, {}, {}, {}, plaster(25.0), {}}}};
  const SideWalls no_bottom{.elsewhere = {}, .of_side = {{{}, {}, {}, {}, insulated, {}}}};
  const double open_mm = in_mm(
      equivalent_slabs(Block{Length::from_mm(80.0), Length::from_mm(90.0), Length::from_mm(60.0)})
          .steady_difference);
  const double shelf_mm = difference(on_shelf);
  CHECK(shelf_mm > open_mm);
  CHECK(difference(in_mould) > shelf_mm);
  CHECK(difference(no_bottom) > open_mm);
}

TEST_CASE("side walls: what is assumed, at half and double, comes beside" *
          doctest::skip(slow_build)) {
  const SideWalls walls{.elsewhere = {}, .of_side = {{{}, {}, {}, {}, plaster(25.0), {}}}};
  const GriddedSolid solid = box_behind(walls, 80.0, 90.0, 60.0);
  REQUIRE(solid.difference_if.size() == 2);
  CHECK(solid.difference_if[0] > solid.shape.steady_difference);
  CHECK(solid.difference_if[1] < solid.shape.steady_difference);
}

TEST_CASE("side walls: a layer beyond which nothing passes gives its heat to the glass") {
  Wall wall = plaster(25.0);
  wall.insulated = true;
  const Casting slab = slab_of_mm(60.0);
  const SurfaceCooling cooling =
      surface_cooling({.elsewhere = {}, .of_side = {{{}, {}, {}, {}, wall, {}}}}, slab.glass);
  const Cooling& bottom = cooling.of_side[4]->cooling;
  const double strain_K = slab.glass.strain_point.value.in_K();
  const double as_glass_m =
      0.025 * 1100.0 * 1000.0 /
      (slab.glass.density_kg_per_m3.value * slab.glass.heat_capacity_J_per_kg_K.value.at(strain_K));
  CHECK(bottom.heat_m == doctest::Approx(as_glass_m));
  CHECK(bottom.level_m2 / bottom.length_m == doctest::Approx(as_glass_m));
  CHECK(cooling.of_side[4]->exchanges == 0.0);
}

TEST_CASE("side walls: words are read side by side, the rest is the mould or open") {
  CHECK_FALSE(read({.mould = word(plaster_25, "--mould")}));
  const std::optional<SideWalls> open_top =
      read({.mould = word(plaster_25, "--mould"), .top = word("open", "--top")});
  REQUIRE(open_top);
  CHECK(describe(*open_top, Lengths::millimetre) ==
        "plaster-silica 25 mm; top open; held in shape");
  CHECK(open_top->any_assumed());
  const std::optional<SideWalls> back =
      read({.back = word(plaster_25, "--back"), .grips = word("no", "--mould-grips")},
           {BoxSide::bottom});
  REQUIRE(back);
  CHECK(describe(*back, Lengths::millimetre) ==
        "open; back plaster-silica 25 mm; bottom insulated; free to bend");
}

TEST_CASE("side walls: what cannot be is refused") {
  const auto message = [](const WallWords& words, const std::vector<BoxSide>& insulated = {}) {
    return message_of([&] { read(words, insulated); });
  };
  CHECK(message({.bottom = word(plaster_25, "--bottom")}, {BoxSide::bottom})
            .find("--bottom: the bottom is insulated, and has layers here") == 0);
  CHECK(message({.mould = word(plaster_25, "--mould"), .top = word("plaster-silica 5mm", "--top")})
            .find("--top: no side of the solid sees the kiln") == 0);
  CHECK(message({.bottom = word("air 10mm, plaster-silica 25mm", "--bottom")})
            .find("--bottom: the sides differ and nothing touches the glass") == 0);
  CHECK(message({.left = word("plaster-silica", "--left")}).find("--left: ") == 0);
  // of another shape than a mesh
  const std::string slab = message_of([&] {
    read_walls({.left = word(plaster_25, "--left")}, Slab{Length::from_mm(50.0)}, read_shipped);
  });
  CHECK(slab.find("--left: left, right, front and back are sides of a mesh") == 0);
}

TEST_CASE("side walls: a reservoir that governs has no sides to put walls on" *
          doctest::skip(slow_build)) {
  const TemporaryFolder folder;
  const std::string path = folder.file("box.stl", box_stl(40.0, 40.0, 40.0));
  const SideWalls walls{.elsewhere = plaster(25.0), .of_side = {{{}, {}, {}, {}, {}, Wall{}}}};
  const std::string message = message_of([&] {
    read_solid_behind(
        path, Lengths::millimetre, walls, slab_of_mm(40.0).glass, Length::from_mm(90.0), {});
  });
  CHECK(message.find("its reservoir is thicker than the piece and governs") != std::string::npos);
}

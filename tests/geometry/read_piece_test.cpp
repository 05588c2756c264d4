#include "geometry/read_piece.h"

#include "message_of.h"

#include <string>
#include <string_view>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

struct Said {
  std::string_view kind, size;
  std::string_view faces = "", inside = "", insulated = "";
};

Piece read(const Said& said) {
  return read_piece({.kind = said.kind,
                     .size = said.size,
                     .faces = said.faces,
                     .kind_place = {"--shape"},
                     .size_place = {"--size"},
                     .faces_place = {"--faces"},
                     .inside = said.inside,
                     .insulated = said.insulated,
                     .inside_place = {"--inside"},
                     .insulated_place = {"--insulated"}},
                    {});
}

std::string message(const Said& said) {
  return message_of([&] { read(said); });
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("read piece: shapes that a series knows have no grid") {
  const Piece tube = read({"tube", "5in x 0.5in", "", "core"});
  CHECK(!tube.solid.has_value());
  CHECK(describe(tube.shape, Lengths::inch) == "tube 5, wall 0.5 in, inside against a core");
  CHECK(describe(read({"block", "75x75x150mm"}).shape, Lengths::millimetre) ==
        "block 75 x 75 x 150 mm");
}

TEST_CASE("read piece: the inside of a hollow piece has to be said, of others not") {
  CHECK(message({"tube", "120x15mm"}) ==
        "--inside: the inside of a tube is not said; write open (cooled as the outside is) or core "
        "(not cooled)");
  CHECK(message({"vessel", "200x250x15x20mm"}) ==
        "--inside: the inside of a vessel is not said; write open (cooled as the outside is) or "
        "core (not cooled)");
  CHECK(message({"vessel", "200x250x15x20mm", "", "closed"}) ==
        "--inside: unknown inside \"closed\"; write open (cooled as the outside is) or core (not "
        "cooled)");
  for (const Said& said : {Said{"cone", "80x80mm", "", "open"}, Said{"rod", "80mm", "", "core"}}) {
    CHECK(message(said) == "--inside: a " + std::string{said.kind} +
                               " is solid: only a tube or a vessel has an inside; leave it out");
  }
}

TEST_CASE("read piece: what no solid has is said in one line") {
  CHECK(has(message({"tube", "120x60mm", "", "open"}), "leaves no hollow in a tube 120 mm across"));
  CHECK(has(message({"vessel", "200x250x100x20mm", "", "open"}), "leaves no hollow"));
  CHECK(has(message({"dome", "120x70mm"}), "at most 60 mm high"));
  CHECK(has(message({"wedge", "300x200x20x60mm"}), "thicker than the thick one"));
  CHECK(has(message({"boss", "200x30x200x40mm"}), "does not stand on a disc"));
  CHECK(has(message({"dumbbell", "80x60x70x20mm"}), "wider than the lump"));
  CHECK(has(message({"cone", "4x4mm"}),
            "thickness 2.472 mm (0.0973 in) is outside 3..1000 mm (0.118..39.4 in)"));
  CHECK(has(message({"cone", "80x8000mm"}), "side 8000 mm is over 3000 mm"));
  CHECK(has(message({"cone", "1e300x1e300mm"}), "over 3000 mm"));
  CHECK(has(message({"wedge", "300x200x60x0mm"}), "is not above zero"));
  CHECK(message({"vessel", "200x250mm", "", "core"}) ==
        "--size: vessel needs 4 sizes, \"200x250mm\" has 2; give outer diameter x height x wall x "
        "bottom, for example 200x250x15x20mm");
  CHECK(message({"dome", ""}) ==
        "--size: dome has no size; give diameter x height, for example 120x40mm");
}

TEST_CASE("read piece: sides that do not cool are those that the solid has") {
  CHECK(message({"dome", "120x40mm", "", "", "top"}) ==
        "--insulated: a round solid has its bottom alone as a flat side to stand on; write bottom, "
        "or leave it out");
  CHECK(message({"dumbbell", "80x60x30x20mm", "", "", "bottom"}) ==
        "--insulated: a dumbbell has no flat side; leave it out: it cools all round");
  CHECK(message({"wedge", "300x200x60x20mm", "", "", "bottom,top"}) ==
        "--insulated: the top of a wedge slopes and cools; write bottom, left (its thick end), "
        "right (its thin end), front or back");
  CHECK(has(message({"cone", "80x80mm", "", "", "underneath"}), "no side of a solid"));
  CHECK(has(message({"block", "80x80x80mm", "", "", "bottom"}), "not of a block"));
  CHECK(message({"slab", "80mm", "", "", "bottom"}) ==
        "--insulated: insulated names sides of a mesh, vessel, dome, cone, wedge or boss, not of a "
        "slab; say with faces which of them cool");
  CHECK(message({"cone", "80x80mm", "one-held"}) ==
        "--faces: only a slab has faces, not a cone; leave it out; name what does not cool with "
        "insulated");
}

TEST_CASE("read piece: several problems are said together") {
  const std::string all = message({"vessel", "200x250", "both", "shut", "top,top"});
  for (const char* part : {"needs 4 sizes", "unknown inside", "only a slab", "twice"}) {
    CAPTURE(part);
    CHECK(has(all, part));
  }
}

TEST_CASE("read piece: a part too thin for a grid over the whole is said, with what would do") {
  const std::string vessel = message({"vessel", "1000x1000x3x5mm", "", "core"});
  CHECK(has(vessel,
            "a part 3 mm thick is too thin for a grid over a solid of 1000 x 1000 x 1000 mm"));
  CHECK(has(vessel, "each alone"));
  CHECK(has(message({"dumbbell", "800x800x1e-6x10mm"}), "too thin for a grid"));
}

TEST_CASE("read piece: what is far too thin is refused before its largest ball is looked for") {
  // Looking for it took half a second to over a second in each of these.
  for (const Said& said : {Said{"dome", "120x0.001mm"},
                           Said{"boss", "3000x0.001x2999x0.001mm"},
                           Said{"dumbbell", "1e-9x1e-9x1e-10x3000mm"},
                           Said{"vessel", "3000x3000x1e-5x1e-5mm", "", "open"}}) {
    CAPTURE(said.size);
    const std::string refused = message(said);
    CHECK(has(refused, " in) is outside 3..1000 mm"));
  }
  CHECK(message({"dome", "120x0.001mm"})
            .starts_with("--size: thickness 0.001 mm (3.94e-05 in) is outside"));
}

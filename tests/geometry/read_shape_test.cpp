#include "geometry/read_shape.h"

#include "base/error.h"

#include <cmath>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

Shape read(std::string_view kind, std::string_view size, std::string_view faces = "") {
  return read_shape({kind, size, faces, {"--shape"}, {"--size"}, {"--faces"}});
}

std::string shown(std::string_view kind, std::string_view size, std::string_view faces = "") {
  return describe(read(kind, size, faces), Lengths::millimetre);
}

std::string message(std::string_view kind, std::string_view size, std::string_view faces = "") {
  try {
    return "no error: " + shown(kind, size, faces);
  } catch (const Error& error) {
    return error.what();
  }
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("read shape: every kind from its own sizes") {
  CHECK(shown("slab", "75mm") == "slab 75 mm");
  CHECK(shown("rod", "3in") == "rod 76.2 mm");
  CHECK(shown("ball", "7.5 cm") == "ball 75 mm");
  CHECK(shown("block", "75x75x150mm") == "block 75 x 75 x 150 mm");
  CHECK(shown("disc", "200x40mm") == "disc 200 x 40 mm");
  CHECK(shown("bar", "60x90mm") == "bar 60 x 90 mm");
  CHECK(shown("prism", "80mm") == "prism 80 mm");
}

TEST_CASE("read shape: one unit at the end or one at each number, any spacing, three crosses") {
  CHECK(shown("block", "75 mm x 75 mm x 150 mm") == "block 75 x 75 x 150 mm");
  CHECK(shown("block", "3in x 3in x 6in") == "block 76.2 x 76.2 x 152.4 mm");
  CHECK(shown("block", "  3 X 3 X 6 in ") == "block 76.2 x 76.2 x 152.4 mm");
  CHECK(shown("block", "75\u00d775\u00d7150 mm") == "block 75 x 75 x 150 mm");
  CHECK(shown("disc", "20cm x 40mm") == "disc 200 x 40 mm");
}

TEST_CASE("read shape: faces of a slab") {
  CHECK(std::get<Slab>(read("slab", "75mm")).faces == Faces::both);
  CHECK(std::get<Slab>(read("slab", "75mm", "both")).faces == Faces::both);
  CHECK(std::get<Slab>(read("slab", "75mm", "one-free")).faces == Faces::one_free);
  CHECK(std::get<Slab>(read("slab", " 75mm", " one-held ")).faces == Faces::one_held);
  CHECK(std::holds_alternative<Ball>(read("ball", "75mm", "both")));
}

TEST_CASE("read shape: faces that cannot be used are refused with what to say") {
  CHECK(message("slab", "75mm", "one") ==
        "--faces: faces \"one\" leaves open whether the glass can bend; say one-free (free to "
        "bend) or one-held (held flat)");
  CHECK(
      message("slab", "75mm", "top") ==
      "--faces: unknown faces \"top\"; use both, one-free (free to bend) or one-held (held flat)");
  CHECK(message("rod", "75mm", "one-free") ==
        "--faces: faces \"one-free\" do not fit a rod, which is cooled all round; leave faces out, "
        "or describe the piece as a slab cooled from one face");
}

TEST_CASE("read shape: an unknown kind is answered with the known ones or the right word") {
  CHECK(message("blob", "75mm") ==
        "--shape: unknown shape \"blob\"; use slab, rod, ball, block, disc, bar, prism, "
        "tube, vessel, dome, cone, wedge, boss or dumbbell");
  CHECK(message("", "75mm") ==
        "--shape: unknown shape \"\"; use slab, rod, ball, block, disc, bar, prism, "
        "tube, vessel, dome, cone, wedge, boss or dumbbell");
  CHECK(message("cylinder", "75mm") ==
        "--shape: unknown shape \"cylinder\"; say rod (long) or disc (short; diameter x height)");
  CHECK(message("cube", "75mm") ==
        "--shape: unknown shape \"cube\"; say block, for example 75x75x75mm");
}

TEST_CASE("read shape: a wrong number of sizes is answered with an example") {
  CHECK(message("block", "75mm") ==
        "--size: block needs 3 sizes, \"75mm\" has 1; give three sides, for example 75x75x150mm");
  CHECK(message("slab", "75x80mm") ==
        "--size: slab needs 1 size, \"75x80mm\" has 2; give its thickness, for example 75mm");
  CHECK(message("disc", "200x40x40mm") ==
        "--size: disc needs 2 sizes, \"200x40x40mm\" has 3; give diameter x height, for example "
        "200x40mm");
  CHECK(message("bar", " ") ==
        "--size: bar has no size; give the two sides of its section, for example 60x90mm");
  CHECK(message("bar", "60x") ==
        "--size: size \"60x\" lacks a number; give the two sides of its section, for example "
        "60x90mm");
}

TEST_CASE("read shape: a missing unit is refused with what to write") {
  CHECK(message("slab", "75") ==
        "--size: size \"75\" ends without a unit; put mm, cm or in behind the last number");
  CHECK(message("bar", "60mm x 90") ==
        "--size: size \"60mm x 90\" ends without a unit; put mm, cm or in behind the last number");
  CHECK(message("block", "75mm x 80 x 3in") ==
        "--size: size \"75mm x 80 x 3in\" has a unit at some numbers only; give the unit once, at "
        "the end, or at every number");
}

TEST_CASE("read shape: sizes that are no lengths are refused") {
  CHECK(message("slab", "-75mm") ==
        "--size: size \"-75mm\" is not above zero; give a size from 3 to 1000 mm");
  CHECK(message("slab", "0mm") ==
        "--size: size \"0mm\" is not above zero; give a size from 3 to 1000 mm");
  for (const char* size : {"nanmm",
                           "nan mm",
                           "infmm",
                           "1e999mm",
                           "75 parsec",
                           "mm",
                           "0x10mm",
                           "75,5mm",
                           "\xff\xfe",
                           "--",
                           "7.5.5mm",
                           "75mmm"}) {
    CAPTURE(size);
    CHECK(has(message("slab", size), "--size: "));
    CHECK(!has(message("slab", size), "no error"));
  }
}

TEST_CASE("read shape: sizes no casting has are taken for a slip") {
  CHECK(message("slab", "0.5mm") ==
        "--size: thickness 0.5 mm (0.0197 in) is outside 3..1000 mm (0.118..39.4 in); check the "
        "number and its unit (mm, cm, m, "
        "in, ft)");
  CHECK(has(message("ball", "75m"),
            "thickness 7.5e+04 mm (2.95e+03 in) is outside 3..1000 mm (0.118..39.4 in)"));
  CHECK(has(message("block", "75x75x0.15mm"),
            "thickness 0.15 mm (0.00591 in) is outside 3..1000 mm (0.118..39.4 in)"));
  CHECK(message("bar", "60mm x 90m") ==
        "--size: side 9e+04 mm is over 3000 mm; check the number and its unit (mm, cm, m, in, ft)");
  CHECK(shown("slab", "3mm") == "slab 3 mm");
  CHECK(shown("block", "3mm x 3m x 3m") == "block 3 x 3000 x 3000 mm");
  CHECK(shown("ball", "1000mm") == "ball 1000 mm");
}

TEST_CASE("read shape: size and faces are reported together") {
  const std::string both = message("slab", "75", "one");
  CHECK(has(both, "ends without a unit"));
  CHECK(has(both, "one-free (free to bend)"));
}

TEST_CASE("read shape: places of a file are kept") {
  const ShapeWords words = {
      "bar", "60mm", "one", {"a.casting", 1, 9}, {"a.casting", 2, 8}, {"a.casting", 3, 9}};
  std::string text;
  try {
    read_shape(words);
  } catch (const Error& error) {
    text = error.what();
  }
  CHECK(has(text, "a.casting:2:8: bar needs 2 sizes"));
  CHECK(has(text, "a.casting:3:9: faces \"one\" do not fit a bar"));
}

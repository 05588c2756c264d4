#include "simulation/walls.h"

#include <string>

#include <doctest/doctest.h>

#include "base/data_folder.h"
#include "checking/example_casting.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string data = std::string{THICKSET_SOURCE} + "/data";

Mould shipped(const std::string& name, const Place& place) {
  return read_mould(find_data_file(data, "moulds", "mould", name, to_string(place)));
}

Casting read(const std::string& path) {
  const auto glass = [](const std::string& name, const Place& place) {
    return read_glass(find_data_file(data, "glasses", "glass", name, to_string(place)));
  };
  return read_casting(path, glass, shipped);
}

const std::string slab = "glass = soda-lime-float\nshape = slab\nsize = 60mm\n";
const std::string rod = "glass = soda-lime-float\nshape = rod\nsize = 60mm\n";

std::string said(const Casting& casting) {
  return casting.walls ? describe(*casting.walls, casting.shape, Lengths::millimetre) : "bare";
}

}  // namespace

TEST_CASE("a casting file says what lies against the glass") {
  const TemporaryFolder folder;
  const auto with = [&](const std::string& lines, const std::string& shape = slab) {
    return said(read(folder.file("a.casting", shape + lines)));
  };
  CHECK(with("") == "bare");
  CHECK(with("mould = open\n") == "bare");
  CHECK(with("mould = plaster-silica 25mm\n") == "plaster-silica 25 mm on both faces");
  CHECK(with("mould = plaster-silica 25mm\n", rod) == "plaster-silica 25 mm all round");
  CHECK(with("mould = plaster-silica 25mm\ntop = open\n") ==
        "top open; bottom plaster-silica 25 mm; held flat");
  CHECK(with("mould = plaster-silica 25mm\ntop = open\nmould_grips = no\n") ==
        "top open; bottom plaster-silica 25 mm; free to bend");
  CHECK(
      with("top = fibre-blanket 1in\nbottom = plaster-silica 25mm, cordierite-shelf 15mm\n") ==
      "top fibre-blanket 25.4 mm; bottom plaster-silica 25 mm, cordierite-shelf 15 mm; held flat");
  CHECK(with("top = plaster-silica 25mm\nbottom = plaster-silica 25mm\n") ==
        "plaster-silica 25 mm on both faces");
  CHECK(with("top = open\nbottom = insulated\nmould_grips = no\n") ==
        "top open; bottom insulated; free to bend");
}

TEST_CASE("the path of a mould starts at the casting's own folder") {
  const TemporaryFolder folder;
  folder.file("studio/mine.mould",
              "status = assumed\ndensity = 1000 kg/m3\nconductivity = 0.4 W/(m K)\n"
              "heat_capacity = 900 J/(kg K)\n");
  const std::string path = folder.file("studio/a.casting", slab + "mould = ./mine.mould 20mm\n");
  CHECK(said(read(path)) == "mine 20 mm on both faces");
}

TEST_CASE("walls that do not fit the casting are refused where they stand, with how to mend them") {
  const TemporaryFolder folder;
  struct Row {
    std::string shape, lines, message;
  };
  for (const Row& row :
       {Row{rod,
            "bottom = plaster-silica 25mm\n",
            ":4:10: top and bottom are the faces of a slab; a rod has one wall all round; write "
            "mould with its layers instead"},
        Row{slab,
            "top = plaster-silica 25mm\n",
            ":4:7: nothing is said of the bottom; write open, insulated or its layers for it too"},
        Row{slab,
            "bottom = plaster-silica 25mm\n",
            ":4:10: nothing is said of the top; write open, insulated or its layers for it too"},
        Row{slab,
            "faces = one-held\nmould = plaster-silica 25mm\n",
            ":5:9: the faces that cool are named twice, by faces and here; leave faces out; write "
            "insulated for a face that does not cool, and say with mould_grips whether the slab "
            "may bend"},
        Row{slab,
            "mould_grips = yes\n",
            ":4:15: there is no mould; leave it out, or write mould, or top and bottom, with their "
            "layers"},
        Row{slab,
            "mould = plaster-silica 25mm\nmould_grips = held\n",
            ":5:15: \"held\" is not known; write yes (the mould holds the slab flat) or no (it is "
            "free to bend)"},
        Row{slab,
            "mould = plaster-silica 25mm\ntop = open\nbottom = open\n",
            ":4:9: mould, top and bottom are all given; leave mould out: top and bottom say all "
            "there is"},
        Row{rod,
            "mould = plaster-silica 25mm, insulated\n",
            ":4:9: no heat could leave the casting; leave insulated out on one face at least"},
        Row{slab,
            "top = open\nbottom = insulated\n",
            ":4:7: the faces differ and nothing touches the glass; say with mould_grips whether it "
            "is held flat (yes) or free to bend (no)"},
        Row{slab,
            "mould = plaster-silica 0mm\n",
            ":4:9: a layer of plaster-silica of 0 mm is outside 0.5 to 500 mm; check the number "
            "and its unit (mm, cm, m, in, ft)"},
        Row{slab,
            "mould = plaster-silcia 25mm\n",
            ":4:9: no mould is called \"plaster-silcia\"; did you mean plaster-silica?"},
        Row{slab,
            "mold = plaster-silica 25mm\n",
            ":4:1: \"mold\" is not a known key; did you mean "
            "mould?"},
        Row{slab,
            "inner = plaster-silica 25mm\n",
            ":4:1: \"inner\" is not a known key; known are title, glass, shape, size, faces, "
            "reservoir, thickness_uncertainty, mould, top, bottom, left, right, front, back, "
            "mould_grips, mesh, "
            "mesh_unit, insulated, inside"}}) {
    const std::string path = folder.file("a.casting", row.shape + row.lines);
    CAPTURE(row.lines);
    CHECK(message_of([&] { read(path); }) == path + row.message);
  }
}

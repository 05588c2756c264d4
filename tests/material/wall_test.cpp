#include "material/wall.h"

#include <cmath>
#include <random>
#include <string>

#include <doctest/doctest.h>

#include "base/data_folder.h"
#include "base/error.h"
#include "message_of.h"

using namespace thickset;

namespace {

const std::string data = std::string{THICKSET_SOURCE} + "/data";

Mould shipped(const std::string& name, const Place& place) {
  return read_mould(find_data_file(data, "moulds", "mould", name, to_string(place)));
}

Wall read(const std::string& text) {
  return read_wall(text, {"a.casting", 4, 9}, shipped);
}

std::string refusal(const std::string& text) {
  return message_of([&] { read(text); });
}

}  // namespace

TEST_CASE("a wall is read from the glass outwards, and written back the same") {
  const Wall wall = read(
      "contact 0.002 m2 K/W, plaster-silica 25mm,cordierite-shelf 1.5 cm , air "
      "20mm, fireclay-brick 60mm, insulated");
  REQUIRE(wall.layers.size() == 5);
  CHECK(wall.layers[0].kind == Layer::Kind::contact);
  CHECK(wall.layers[0].resistance_m2_K_per_W == 0.002);
  CHECK(wall.layers[1].material->name == "plaster-silica");
  CHECK(std::abs(wall.layers[2].thickness.in_mm() - 15.0) <= 1e-9);
  CHECK(wall.layers[3].kind == Layer::Kind::air);
  CHECK(wall.insulated);
  CHECK(wall.touches());
  CHECK(std::abs(wall.thickness().in_mm() - 120.0) <= 1e-9);
  const std::string text = describe(wall, Lengths::millimetre);
  CHECK(text ==
        "contact 0.002 m2 K/W, plaster-silica 25 mm, cordierite-shelf 15 mm, air 20 mm, "
        "fireclay-brick 60 mm, insulated");
  CHECK(describe(read(text), Lengths::millimetre) == text);
}

TEST_CASE("open and insulated faces have no layers") {
  CHECK(read("open").open());
  CHECK(read(" open ").open());
  const Wall insulated = read("insulated");
  CHECK_FALSE(insulated.open());
  CHECK(insulated.layers.empty());
  CHECK(insulated.insulated);
  CHECK_FALSE(read("air 2mm, plaster-silica 25mm").touches());
}

TEST_CASE("walls are alike by what heat finds in them, not by their names") {
  const Wall wall = read("contact 0.01 m2 K/W, plaster-silica 25mm, air 5mm, fibre-blanket 13mm");
  CHECK(alike(wall, read("contact 0.01 m2K/W,plaster-silica 2.5cm,air 0.5cm,fibre-blanket 13mm")));
  CHECK_FALSE(alike(wall, read("plaster-silica 25mm, air 5mm, fibre-blanket 13mm")));
  CHECK_FALSE(alike(wall, read("contact 0.01 m2 K/W, plaster-silica 25mm, fibre-blanket 13mm")));
  CHECK_FALSE(alike(wall, wall.with_assumed_conductivity_times(2.0)));
  CHECK_FALSE(alike(read("insulated"), read("open")));
  CHECK(alike(read("open"), Wall{}));
  Wall renamed = wall;
  renamed.layers[1].material->name = "mine";
  CHECK(alike(wall, renamed));
}

TEST_CASE("only assumed materials take part in half and double") {
  const Wall wall = read("plaster-silica 25mm, fibre-blanket 25mm");
  CHECK(wall.any_assumed());
  const Wall half = wall.with_assumed_conductivity_times(0.5);
  const auto k = [](const Layer& layer) {
    return layer.material->conductivity_W_per_m_K.at(700.0);
  };
  CHECK(std::abs(k(half.layers[0]) - 0.5 * k(wall.layers[0])) <= 1e-12);
  CHECK(k(half.layers[1]) == k(wall.layers[1]));
  CHECK_FALSE(read("fibre-blanket 25mm").any_assumed());
}

TEST_CASE("a bad wall is refused at the layer that is wrong, with how to mend it") {
  struct Row {
    const char* text;
    const char* message;
  };
  for (const Row& row : {
           Row{"plaster-silica 0mm",
               "a.casting:4:9: a layer of plaster-silica of 0 mm is outside 0.5 to 500 mm; check "
               "the number and its unit (mm, cm, m, in, ft)"},
           Row{"plaster",
               "a.casting:4:9: no mould is called \"plaster\"; did you mean plaster-sand or "
               "plaster-silica?"},
           Row{"plaster-silica 25mm fibre-blanket 13mm",
               "a.casting:4:9: \"plaster-silica 25mm fibre-blanket 13mm\" is more than a material "
               "and its thickness; separate layers by commas: plaster-silica 25mm, "
               "cordierite-shelf 15mm"},
           Row{"plaster-silica 25mm, fibre-blanket 3m",
               "a.casting:4:30: a layer of fibre-blanket of 3000 mm is outside 0.5 to 500 mm; "
               "check the number and its unit (mm, cm, m, in, ft)"},
           Row{"plaster-silica -5mm",
               "a.casting:4:9: a layer of plaster-silica of -5 mm is outside 0.5 to 500 mm; check "
               "the number and its unit (mm, cm, m, in, ft)"},
           Row{"plaster-silica nanmm",
               "a.casting:4:9: \"nanmm\" does not start with a number; write a length such as "
               "100mm or 4in"},
           Row{"plaster-silica 25", "a.casting:4:9: 25 has no unit; write 25mm, 25cm or 25in"},
           Row{"plaster-silcia 25mm",
               "a.casting:4:9: no mould is called \"plaster-silcia\"; did you mean "
               "plaster-silica?"},
           Row{"plaster-silica",
               "a.casting:4:9: \"plaster-silica\" has no thickness; write layers from the glass "
               "outwards, such as plaster-silica 25mm, cordierite-shelf 15mm"},
           Row{"plaster-silica 25mm,, air 2mm",
               "a.casting:4:9: a layer is missing; write layers from the glass outwards, such as "
               "plaster-silica 25mm, cordierite-shelf 15mm"},
           Row{"open, plaster-silica 25mm",
               "a.casting:4:9: open stands alone: no layer lies on an open face; write layers from "
               "the glass outwards, such as plaster-silica 25mm, cordierite-shelf 15mm"},
           Row{"insulated, plaster-silica 25mm",
               "a.casting:4:9: insulated stands last: no heat passes beyond it; write layers from "
               "the glass outwards, such as plaster-silica 25mm, cordierite-shelf 15mm"},
           Row{"plaster-silica 25mm, air 20mm",
               "a.casting:4:30: \"air 20mm\" is outermost; leave it out, the kiln's own air is "
               "beyond the last layer; or name what lies beyond the gap, such as a floor of "
               "fireclay-brick 60mm, insulated"},
           Row{"air 2mm, contact 0.01 m2 K/W, plaster-silica 25mm",
               "a.casting:4:18: \"contact 0.01 m2 K/W\" lies beside another gap; write one gap, or "
               "name the layer between them"},
           Row{"air 300mm, plaster-silica 25mm",
               "a.casting:4:9: an air gap of 300 mm is outside 0.1 to 50 mm; air circulates in "
               "wider gaps; write open for a face that sees the kiln"},
           Row{"contact 20 m2 K/W, plaster-silica 25mm",
               "a.casting:4:9: a contact of 20 m2 K/W is outside 1e-05 to 10 m2 K/W; 10 mm of "
               "plaster-silica are about 0.03 m2 K/W"},
           Row{"contact 0.01, plaster-silica 25mm",
               "a.casting:4:9: 0.01 has no unit; write 0.01 m2 K/W"},
       }) {
    CAPTURE(row.text);
    CHECK(refusal(row.text) == row.message);
  }
  std::string many = "plaster-silica 1mm";
  for (int i = 0; i < 8; ++i) many += ", plaster-silica 1mm";
  CHECK(refusal(many) ==
        "a.casting:4:9: 9 layers, at most 8 are taken; leave thin ones out, or join like ones");
}

TEST_CASE("no text of a wall does more than be read or be refused") {
  const std::string pieces[] = {"plaster-silica",
                                " 25mm",
                                ",",
                                "air",
                                " 0.1mm",
                                "contact",
                                " 0.01 m2 K/W",
                                "open",
                                " ",
                                "insulated",
                                "1e308m",
                                "-",
                                "\xff",
                                "\t",
                                "nan",
                                "mm",
                                "fibre-blanket 13mm"};
  std::mt19937 stream{7};
  int read_through = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    for (unsigned left = stream() % 8; left > 0; --left) text += pieces[stream() % 17];
    CAPTURE(text);
    try {
      const Wall wall = read(text);
      ++read_through;
      CHECK(wall.layers.size() <= most_layers);
      CHECK((wall.layers.empty() || wall.layers.back().kind == Layer::Kind::solid));
      CHECK(describe(read(describe(wall, Lengths::millimetre)), Lengths::millimetre) ==
            describe(wall, Lengths::millimetre));
    } catch (const Error& error) {
      // A name with a point in it is taken for a file that is not there.
      const std::string message = error.what();
      CHECK((message.starts_with("a.casting:4:") || message.starts_with("0.1mm")));
    }
  }
  CHECK(read_through > 100);
}

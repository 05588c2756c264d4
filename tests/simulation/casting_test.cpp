#include "simulation/casting.h"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/data_folder.h"
#include "glass/read_glass.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string data = std::string{THICKSET_SOURCE} + "/data";

Glass shipped_or_path(const std::string& name, const Place& place) {
  return read_glass(find_data_file(data, "glasses", "glass", name, to_string(place)));
}

Mould shipped_mould(const std::string& name, const Place& place) {
  return read_mould(find_data_file(data, "moulds", "mould", name, to_string(place)));
}

Casting read(const std::string& path) {
  return read_casting(path, shipped_or_path, shipped_mould);
}

constexpr double round_off_mm = 1e-9;

}  // namespace

TEST_CASE("a casting file gives title, glass, shape and reservoir") {
  const TemporaryFolder folder;
  const Casting casting = read(folder.file("head.casting",
                                           "title = small head\n"
                                           "glass = lead-crystal-24\n"
                                           "shape = ball\n"
                                           "size = 4.5 in\n"
                                           "reservoir = 90 mm\n"));
  CHECK(casting.title == "small head");
  CHECK(casting.glass.name == "lead-crystal-24");
  REQUIRE(std::holds_alternative<Ball>(casting.shape));
  CHECK(std::abs(largest_ball(casting.shape).in_mm() - 4.5 * 25.4) <= round_off_mm);
  REQUIRE(casting.reservoir.has_value());
  CHECK(std::abs(casting.reservoir->in_mm() - 90.0) <= round_off_mm);
}

TEST_CASE("a casting without a title is called by its file") {
  const TemporaryFolder folder;
  const std::string path =
      folder.file("fin.casting", "glass = soda-lime-float\nshape = slab\nsize = 40mm\n");
  CHECK(read(path).title == "fin");
}

TEST_CASE("faces of a slab are read, and refused where the shape has none") {
  const TemporaryFolder folder;
  const std::string slab = "glass = soda-lime-float\nshape = slab\nsize = 40mm\nfaces = one-held\n";
  const Casting held = read(folder.file("held.casting", slab));
  CHECK(std::get<Slab>(held.shape).faces == Faces::one_held);
  const std::string ball = folder.file(
      "ball.casting", "glass = soda-lime-float\nshape = ball\nsize = 40mm\nfaces = one-held\n");
  CHECK(message_of([&] { read(ball); }).starts_with(ball + ":4:9: faces \"one-held\" do not fit"));
}

TEST_CASE("the thicker of piece and reservoir governs, a reservoir as a slab of its thickness") {
  Casting casting{.title = "",
                  .glass = shipped_or_path("soda-lime-float", {}),
                  .shape = Ball{Length::from_mm(80.0)},
                  .reservoir = Length::from_mm(80.0)};
  CHECK_FALSE(casting.reservoir_governs());
  CHECK(std::holds_alternative<Ball>(casting.governing_shape()));
  casting.reservoir = Length::from_mm(81.0);
  CHECK(casting.reservoir_governs());
  REQUIRE(std::holds_alternative<Slab>(casting.governing_shape()));
  CHECK(largest_ball(casting.governing_shape()) == Length::from_mm(81.0));
}

TEST_CASE("the path of a glass starts at the casting's own folder") {
  const TemporaryFolder folder;
  const std::string glass = "expansion = 90e-7\nannealing_point = 510 C\nstrain_point = 470 C\n";
  folder.file("studio/glasses/own.glass", glass);
  folder.file("studio/castings/beside.glass", glass);
  const auto with_glass = [&](const std::string& named) {
    return read(folder.file("studio/castings/a.casting",
                            "glass = " + named + "\nshape = slab\nsize = 40mm\n"))
        .glass.name;
  };
  CHECK(with_glass("../glasses/own.glass") == "own");
  CHECK(with_glass("./beside.glass") == "beside");
  CHECK(with_glass("beside.glass") == "beside");
  CHECK(with_glass(folder / "studio/glasses/own.glass") == "own");
  CHECK(with_glass("soda-lime-float") == "soda-lime-float");
}

TEST_CASE("all that is wrong with a casting comes at once, each with its place") {
  const TemporaryFolder folder;
  const std::string path = folder.file("bad.casting",
                                       "glass = soda-lime-flaot\n"
                                       "shape = slab\n"
                                       "size = -4mm\n"
                                       "resevoir = 90mm\n"
                                       "reservoir = 5 m\n");
  const std::string message = message_of([&] { read(path); });
  CAPTURE(message);
  for (const std::string& line :
       {path + ":1:9: no glass is called \"soda-lime-flaot\"; did you mean soda-lime-float?",
        path + ":3:8: size \"-4mm\" is not above zero",
        path + ":4:1: \"resevoir\" is not a known key; did you mean reservoir?",
        path + ":5:13: a reservoir of 5000 mm is outside 3 to 1000 mm"}) {
    CAPTURE(line);
    CHECK(message.find(line) != message.npos);
  }
  CHECK(std::count(message.begin(), message.end(), '\n') == 3);  // four lines
}

TEST_CASE("no field is computed for a casting that is refused anyway") {
  const TemporaryFolder folder;
  const std::string path = folder.file("vessel.casting",
                                       "glass = soda-lime-floa\n"
                                       "shape = vessel\n"
                                       "size = 871x250x150x20mm\n"
                                       "inside = open\n");
  bool begun = false;
  const std::string refused = message_of([&] {
    read_casting(path, shipped_or_path, shipped_mould, [&](const std::string&) { begun = true; });
  });
  CHECK(refused.starts_with(path + ":1:9: no glass is called \"soda-lime-floa\""));
  CHECK_FALSE(begun);
}

TEST_CASE("a casting without glass, shape or size says what to write") {
  const TemporaryFolder folder;
  const std::string path = folder.file("bare.casting", "title = nothing yet\n");
  const std::string message = message_of([&] { read(path); });
  for (const char* const missing : {"glass is missing", "shape is missing", "size is missing"}) {
    CAPTURE(missing);
    CHECK(message.find(missing) != message.npos);
  }
}

TEST_CASE("every casting that ships is read, with a title of its own") {
  const std::vector<std::string> names = data_names(data, "castings", "casting");
  CHECK(names.size() >= 8);
  for (const std::string& name : names) {
    CAPTURE(name);
    const Casting casting = read(data + "/castings/" + name + ".casting");
    CHECK(casting.title != name);
    CHECK(largest_ball(casting.governing_shape()) >= thinnest_made_for);
    CHECK(largest_ball(casting.governing_shape()) <= thickest_made_for);
  }
}

#include "geometry/read_stl.h"

#include <clocale>
#include <limits>
#include <string>
#include <string_view>

#include <doctest/doctest.h>

#include "base/error.h"
#include "geometry/stl_shapes.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;
using namespace thickset::stl_shapes;

namespace {

std::string message(std::string_view bytes) {
  return message_of([&] { parse_stl(bytes, "a.stl"); });
}

bool same_corners(const TriangleSoup& one, const TriangleSoup& two) {
  return one.corners == two.corners;
}

const std::string one_facet =
    "solid\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\n"
    "endfacet\nendsolid\n";

std::string with(std::string text, std::string_view what, std::string_view instead) {
  return text.replace(text.find(what), what.size(), instead);
}

}  // namespace

TEST_CASE("read stl: binary and text of the same solid give the same corners") {
  const TriangleSoup soup = box(75.0, 50.5, 120.25);  // exact in floats and in the digits written
  CHECK(same_corners(parse_stl(binary_stl(soup), "a.stl"), soup));
  CHECK(same_corners(parse_stl(text_stl(soup), "a.stl"), soup));
}

TEST_CASE("read stl: a file on disk") {
  const TemporaryFolder folder;
  const TriangleSoup soup = box(75.0, 50.0, 120.0);
  CHECK(same_corners(read_stl(folder.file("b.stl", binary_stl(soup))), soup));
  CHECK(message_of([&] { read_stl(folder / "no.stl"); }) ==
        folder / "no.stl: no such file; check the name and the folder");
  CHECK(message_of([&] { read_stl(folder.path()); }) ==
        folder.path() + ": is a folder; name a file in it");
  CHECK(message_of([&] { read_stl(""); }) == "a file name is empty; name a file");
}

TEST_CASE("read stl: a binary file that begins with \"solid\" is read as binary") {
  const TriangleSoup soup = box(75.0, 50.0, 120.0);
  for (const char* head : {"solid", "solid made by a program", "SOLID facet normal 0 0 0"}) {
    CHECK(stl_is_binary(binary_stl(soup, head)));
    CHECK(same_corners(parse_stl(binary_stl(soup, head), "a.stl"), soup));
  }
  // Cut short it is binary still: its count has a NUL byte.
  const std::string whole = binary_stl(soup, "solid");
  CHECK(message(std::string_view{whole}.substr(0, 300)) ==
        "a.stl: is cut short: its head says 12 triangles, which take 684 bytes, and it has 300; "
        "export the model again as STL, and check that it was saved whole");
}

TEST_CASE("read stl: text in any dress") {
  const TriangleSoup soup = parse_stl(one_facet, "a.stl");
  REQUIRE(soup.corners.size() == 3);
  CHECK(soup.corners[1] == Point{1.0, 0.0, 0.0});
  std::string capitals = one_facet;
  for (char& c : capitals) c = c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  std::string cr_lf;
  for (const char c : one_facet) cr_lf += c == '\n' ? "\r\n" : std::string(1, c);
  std::string cr = one_facet;
  for (char& c : cr) c = c == '\n' ? '\r' : c;
  for (const std::string& text : {capitals,
                                  cr_lf,
                                  cr,
                                  "\xEF\xBB\xBF" + one_facet,
                                  " \n\t" + one_facet,
                                  with(one_facet, "solid", "solid facet \xFF name"),
                                  with(one_facet, "normal 0 0 1", "normal nan -nan(ind) 1e999"),
                                  with(one_facet, "vertex 1 0 0", "vertex +1.0E+00 1e-400 -0")}) {
    CAPTURE(text);
    CHECK(same_corners(parse_stl(text, "a.stl"), soup));
  }
  CHECK(parse_stl(one_facet + one_facet, "a.stl").corners.size() == 6);  // two solids in a file
}

TEST_CASE("read stl: the decimal sign is a point whatever the locale") {
  // Where the machine has no such locale the test still reads the numbers.
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  }
  const TriangleSoup soup = parse_stl(with(one_facet, "vertex 1 0", "vertex 1.5 0"), "a.stl");
  std::setlocale(LC_ALL, "C");
  CHECK(soup.corners[1].x() == 1.5);
  CHECK(message(with(one_facet, "vertex 1 0", "vertex 1,5 0")) ==
        "a.stl:5:8: coordinate \"1,5\" is not a finite number; write the decimal sign as a point");
}

TEST_CASE("read stl: broken text is answered with line, column and what should stand there") {
  const std::string again =
      "; export the model again, best as binary STL, and check that it was saved whole";
  CHECK(message("solid only\n") ==
        "a.stl:2:1: the text ends where facet or endsolid should be" + again);
  CHECK(message("solid x\nendsolid x\n") ==
        "a.stl: holds no triangles; export the model again; was anything selected?");
  CHECK(message(with(one_facet, "endloop\n", "vertex 0 0 1\nendloop\n")) ==
        "a.stl:7:1: \"vertex\" stands where endloop should be; divide the faces into triangles "
        "before exporting");
  CHECK(message(with(one_facet, "vertex 1 0 0", "vertex 1 0")) ==
        "a.stl:6:1: coordinate \"vertex\" is not a finite number; repair the model in the program "
        "that made it and export it again");
  CHECK(message(with(one_facet, "outer", "inner")) ==
        "a.stl:3:1: \"inner\" stands where outer should be" + again);
  CHECK(message(with(one_facet, "endsolid", "end")) ==
        "a.stl:9:1: \"end\" stands where facet or endsolid should be" + again);
  CHECK(message(one_facet + "more") == "a.stl:10:1: \"more\" stands where solid should be" + again);
  for (const char* number : {"nan", "inf", "-inf", "1e999", "0x10", "1.5.5", "--1", "+-1", "+"}) {
    CAPTURE(number);
    CHECK(message(with(one_facet, "vertex 1", std::string{"vertex "} + number)) ==
          std::string{"a.stl:5:8: coordinate \""} + number +
              "\" is not a finite number; repair the model in the program that made it and export "
              "it again");
  }
}

TEST_CASE("read stl: text cut short anywhere is refused") {
  for (std::size_t length = 0; length + 2 < one_facet.size(); ++length) {
    CAPTURE(length);
    CHECK(message(std::string_view{one_facet}.substr(0, length)) != "no error");
  }
}

TEST_CASE("read stl: broken binary files are refused with sizes and counts") {
  const std::string again = "; export the model again as STL, and check that it was saved whole";
  const std::string whole = binary_stl(box(75.0, 50.0, 120.0));
  CHECK(message("") == "a.stl: is empty; check that it was saved whole");
  CHECK(message("PK\x03\x04") ==
        "a.stl: is no STL file: 4 bytes that do not begin with \"solid\"" + again);
  CHECK(message(whole + "tail") ==
        "a.stl: is longer than it should be: its head says 12 triangles, which take 684 bytes, and "
        "it has 688" +
            again);
  CHECK(message(std::string(80, ' ') + std::string(4, '\0')) ==
        "a.stl: holds no triangles; export the model again; was anything selected?");
  CHECK(message(std::string(80, ' ') + std::string(4, '\xFF')) ==
        "a.stl: is no STL file, or too large: read as one it has 4294967295 triangles, more than "
        "5000000; export the model again as STL, with fewer triangles if it is so fine");
  CHECK(message(std::string(200, 'x')).starts_with("a.stl: is no STL file, or too large"));
  for (std::size_t length = 0; length < whole.size(); ++length) {
    CHECK(message(std::string_view{whole}.substr(0, length)) != "no error");
  }
}

TEST_CASE("read stl: a coordinate that is no number is refused with its triangle") {
  TriangleSoup soup = box(75.0, 50.0, 120.0);
  soup.corners[7].y() = std::numeric_limits<double>::quiet_NaN();  // the third triangle's second
  CHECK(message(binary_stl(soup)) ==
        "a.stl: triangle 3 (byte 212) has a coordinate that is not a number; repair the model in "
        "the program that made it and export it again");
  soup.corners[7].y() = -std::numeric_limits<double>::infinity();
  CHECK(message(binary_stl(soup)) ==
        "a.stl: triangle 3 (byte 212) has a coordinate that is infinite; repair the model in the "
        "program that made it and export it again");
}

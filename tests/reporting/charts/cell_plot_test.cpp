#include "reporting/charts/cell_plot.h"

#include <limits>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "base/text.h"

using namespace thickset;

namespace {

constexpr CellStroke solid{'a', 1, 0, "31"};
constexpr CellStroke other{'b', 1, 0, ""};
constexpr CellStroke dashed{'-', 2, 1, ""};

std::string joined(const CellPlot& plot, bool colour = false) {
  std::string text;
  for (const std::string& line : plot.lines(colour)) text += line + '\n';
  return text;
}

/// Whether the dot of a plot in UTF-8 is set, counted from the upper left.
bool dot(const CellPlot& plot, int x, int y) {
  const std::string line = plot.lines(false)[static_cast<std::size_t>(y / 4)];
  std::size_t at = 0;
  for (int cell = 0; cell < x / 2; ++cell) at += utf8_length_at(line, at);
  if (line[at] == ' ') return false;
  const unsigned code = ((static_cast<unsigned char>(line[at + 1]) & 0x3Fu) << 6u) |
                        (static_cast<unsigned char>(line[at + 2]) & 0x3Fu);
  // The Unicode Standard numbers the dots of a cell 1 2 3 7 down the left, 4 5 6 8 down the right.
  constexpr int number[2][4] = {{1, 2, 3, 7}, {4, 5, 6, 8}};
  return ((code - 0x800u) >> static_cast<unsigned>(number[x % 2][y % 4] - 1) & 1u) != 0;
}

}  // namespace

TEST_CASE("cell plot: a line from corner to corner goes through the diagonal") {
  CellPlot ascii{5, 5, {0.0, 4.0}, {0.0, 4.0}, false};
  ascii.curve({0.0, 4.0}, {0.0, 4.0}, solid);
  CHECK(joined(ascii) == "    a\n   a \n  a  \n a   \na    \n");

  CellPlot dots{4, 2, {0.0, 7.0}, {0.0, 7.0}, true};
  dots.curve({0.0, 7.0}, {7.0, 0.0}, solid);
  for (int x = 0; x < 8; ++x) {
    for (int y = 0; y < 8; ++y) {
      CAPTURE(x);
      CAPTURE(y);
      CHECK(dot(dots, x, y) == (x == y));
    }
  }
}

TEST_CASE("cell plot: a jump is joined from top to bottom") {
  CellPlot plot{3, 4, {0.0, 2.0}, {0.0, 3.0}, false};
  plot.curve({0.0, 0.9, 1.0, 2.0}, {3.0, 3.0, 0.0, 0.0}, solid);
  CHECK(joined(plot) == "a  \n a \n a \n aa\n");
}

TEST_CASE("cell plot: what lies outside of the field is cut off, not folded in") {
  CellPlot plot{3, 3, {0.0, 2.0}, {0.0, 2.0}, false};
  plot.curve({-1.0, 3.0}, {9.0, 9.0}, solid);
  plot.curve({5.0, 6.0}, {1.0, 1.0}, solid);
  plot.curve({0.0, 2.0}, {-1e300, -1e300}, solid);
  plot.curve({}, {}, solid);
  plot.level(2.5, solid);
  plot.level(std::numeric_limits<double>::quiet_NaN(), solid);
  CHECK(joined(plot) == "   \n   \n   \n");
  CHECK(plot.row_of(2.5) == -1);
  CHECK(plot.row_of(2.0) == 0);
  CHECK(plot.row_of(0.0) == 2);
}

TEST_CASE("cell plot: the later curve has a cell of two, and curves lie above levels") {
  CellPlot plot{3, 1, {0.0, 2.0}, {0.0, 1.0}, false};
  plot.level(0.0, dashed);
  CHECK(joined(plot) == "-- \n");
  plot.curve({0.0, 2.0}, {0.0, 0.0}, solid);
  plot.curve({1.0, 1.0}, {0.0, 0.0}, other);
  CHECK(joined(plot) == "aba\n");
}

TEST_CASE("cell plot: colours are switched where they change and off at the end") {
  CellPlot plot{3, 1, {0.0, 2.0}, {0.0, 1.0}, false};
  plot.curve({0.0, 2.0}, {0.0, 0.0}, solid);
  plot.curve({1.0, 1.0}, {0.0, 0.0}, other);
  CHECK(joined(plot, true) == "\x1b[0;31ma\x1b[0mb\x1b[0;31ma\x1b[0m\n");
  CHECK(joined(plot, false) == "aba\n");
}

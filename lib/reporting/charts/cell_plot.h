#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "reporting/charts/scale.h"

namespace thickset {

/// How a picture is drawn in character cells.
struct SketchStyle {
  bool utf8 = true;     ///< eight dots a cell (U+2800 to U+28FF); else one ASCII letter a cell
  bool colour = false;  ///< besides, never instead: each curve has its own letter or stroke
  int columns = 80;     ///< of the whole picture
  bool tension = true;  ///< there is room for the second field
};

/// A curve as dots along its way or, in ASCII, as its letter.
struct CellStroke {
  char letter;
  int drawn, left_out;     ///< so many dots, then so many gaps; none left out: solid
  std::string_view paint;  ///< the terminal's number of its colour; empty: its usual one
};

/// A field of character cells with curves in it.
class CellPlot {
 public:
  CellPlot(int columns, int rows, Range x, Range y, bool utf8);

  /// A straight line across, under the curves. Out of the field: nothing.
  void level(double value, const CellStroke& stroke);

  /// A curve through these points, of which x does not fall, cut off at the field's edges. In a
  /// cell of two curves the later one has the colour and the letter.
  void curve(const std::vector<double>& x, const std::vector<double>& y, const CellStroke& stroke);

  /// The field's rows from the top down, each `columns` characters wide. colour: with the
  /// sequences of ECMA-48 (SGR) around what is painted.
  std::vector<std::string> lines(bool colour) const;

  /// The row of a value, from the top; -1 where it is out of the field.
  int row_of(double value) const;

 private:
  struct Cell {
    unsigned dots = 0;
    char letter = ' ';
    std::string_view paint{};
  };
  void put(int dot_x, int dot_y, const CellStroke& stroke);
  int dot_rows() const { return rows_ * dots_up_; }

  int columns_, rows_;
  int dots_across_, dots_up_;  ///< of a cell
  Range x_, y_;
  std::vector<Cell> cells_;
};

/// A short piece of a stroke, for a legend.
std::string sample_of(const CellStroke& stroke, bool utf8);

}  // namespace thickset

#include "reporting/charts/cell_plot.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace thickset {
namespace {

/// The bit of each dot of a cell, left and right column from the top down. Source: The Unicode
/// Standard, block Braille Patterns: U+2800 and the bits of its dots.
constexpr unsigned bits[2][4] = {{0x01, 0x02, 0x04, 0x40}, {0x08, 0x10, 0x20, 0x80}};

std::string braille(unsigned dots) {
  if (dots == 0) return " ";  // U+2800 shows as empty circles in some fonts
  const unsigned code = 0x2800u + dots;
  return {static_cast<char>(0xE0u | (code >> 12u)),
          static_cast<char>(0x80u | ((code >> 6u) & 0x3Fu)),
          static_cast<char>(0x80u | (code & 0x3Fu))};
}

bool is_drawn(int dot, const CellStroke& stroke) {
  return dot % (stroke.drawn + stroke.left_out) < stroke.drawn;
}

/// The value at x of a curve through points, x within them.
double between(const std::vector<double>& x, const std::vector<double>& y, double at) {
  const auto after = std::lower_bound(x.begin(), x.end(), at);
  const auto i = static_cast<std::size_t>(after - x.begin());
  if (i == 0) return y.front();
  if (i == x.size()) return y.back();
  const double width = x[i] - x[i - 1];
  return width > 0.0 ? y[i - 1] + (y[i] - y[i - 1]) * (at - x[i - 1]) / width : y[i];
}

}  // namespace

CellPlot::CellPlot(int columns, int rows, Range x, Range y, bool utf8)
    : columns_{columns},
      rows_{rows},
      dots_across_{utf8 ? 2 : 1},
      dots_up_{utf8 ? 4 : 1},
      x_{x},
      y_{y},
      cells_(static_cast<std::size_t>(columns * rows)) {
  assert(columns > 0 && rows > 0 && x.low < x.high && y.low < y.high);
}

void CellPlot::put(int dot_x, int dot_y, const CellStroke& stroke) {
  const int row = dot_y / dots_up_;
  const int column = dot_x / dots_across_;
  Cell& cell = cells_[static_cast<std::size_t>(row * columns_ + column)];
  cell.dots |= bits[dot_x % dots_across_][dot_y % dots_up_];
  cell.letter = stroke.letter;
  cell.paint = stroke.paint;
}

void CellPlot::level(double value, const CellStroke& stroke) {
  if (!(value >= y_.low && value <= y_.high)) return;
  const Scale down{y_, dot_rows() - 1.0, 0.0};
  const int dot_y = static_cast<int>(std::lround(down.at(value)));
  for (int dot_x = 0; dot_x < columns_ * dots_across_; ++dot_x) {
    if (is_drawn(dot_x, stroke)) put(dot_x, dot_y, stroke);
  }
}

void CellPlot::curve(const std::vector<double>& x,
                     const std::vector<double>& y,
                     const CellStroke& stroke) {
  if (x.empty()) return;
  const int dots = columns_ * dots_across_;
  const Scale down{y_, dot_rows() - 1.0, 0.0};
  int along = 0;
  bool begun = false;
  int last = 0;
  for (int dot_x = 0; dot_x < dots; ++dot_x) {
    // The first and the last dot stand for the ends of the field.
    const double at = x_.low + (x_.high - x_.low) * dot_x / std::max(dots - 1, 1);
    if (at < x.front() || at > x.back()) continue;
    const double wanted = down.at(between(x, y, at));
    const double limit = 4.0 * dot_rows();  // far outside is far enough
    const int dot_y = static_cast<int>(std::lround(std::clamp(wanted, -limit, limit)));
    // From where the last column ended, that one's own dot not again.
    const int step = dot_y >= last ? 1 : -1;
    int from = begun && dot_y != last ? last + step : dot_y;
    begun = true;
    last = dot_y;
    for (;; from += step) {
      const bool inside = from >= 0 && from < dot_rows();
      if (inside && is_drawn(along, stroke)) put(dot_x, from, stroke);
      ++along;
      if (from == dot_y) break;
    }
  }
}

std::vector<std::string> CellPlot::lines(bool colour) const {
  std::vector<std::string> lines;
  for (int row = 0; row < rows_; ++row) {
    std::string line;
    std::string_view paint;
    const auto change_to = [&](std::string_view next) {
      if (!colour || next == paint) return;
      line += next.empty() ? std::string{"\x1b[0m"} : "\x1b[0;" + std::string{next} + 'm';
      paint = next;
    };
    for (int column = 0; column < columns_; ++column) {
      const Cell& cell = cells_[static_cast<std::size_t>(row * columns_ + column)];
      change_to(cell.paint);
      line += dots_up_ > 1 ? braille(cell.dots) : std::string(1, cell.letter);
    }
    change_to({});
    lines.push_back(std::move(line));
  }
  return lines;
}

int CellPlot::row_of(double value) const {
  if (!(value >= y_.low && value <= y_.high)) return -1;
  const Scale down{y_, dot_rows() - 1.0, 0.0};
  return static_cast<int>(std::lround(down.at(value))) / dots_up_;
}

std::string sample_of(const CellStroke& stroke, bool utf8) {
  if (!utf8) return {stroke.letter, stroke.letter, stroke.letter};
  constexpr int cells = 4;
  std::string sample;
  for (int cell = 0; cell < cells; ++cell) {
    unsigned dots = 0;
    for (int side = 0; side < 2; ++side) {
      if (is_drawn(2 * cell + side, stroke)) dots |= bits[side][1];
    }
    sample += braille(dots);
  }
  sample.erase(sample.find_last_not_of(' ') + 1);  // a stroke may end in a gap
  return sample;
}

}  // namespace thickset

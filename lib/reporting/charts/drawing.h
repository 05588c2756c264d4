#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// A place in a picture, from its upper left corner.
struct Spot {
  double x_px, y_px;
};

struct Rectangle {
  double left_px, top_px, right_px, bottom_px;
  bool overlaps(const Rectangle& other) const {
    return left_px < other.right_px && other.left_px < right_px && top_px < other.bottom_px &&
           other.top_px < bottom_px;
  }
  bool holds(Spot spot) const {
    return spot.x_px > left_px && spot.x_px < right_px && spot.y_px > top_px &&
           spot.y_px < bottom_px;
  }
};

/// What a stroke or a field stands for; chart_style() says how each looks on light and dark ground.
/// Lines differ by their dashes and their width, not by colour alone.
enum class Mark { first, second, third, wide, limit, pointer, grid, axis, point, band, area };

enum class Anchor { start, middle, end };

inline constexpr double text_px = 14.0;  ///< height of the letters' line
/// About how wide a text is: a little more than it takes in common fonts.
double width_px(std::string_view text);
/// The text, or as much of its beginning as is no wider with "…" behind it.
std::string cut_to_width(std::string_view text, double widest_px);

/// The strokes and words of a picture, as SVG.
class Drawing {
 public:
  void line(Spot from, Spot to, Mark mark);
  /// The corners that a straight line misses by less than half a tenth of a pixel are left out.
  void polyline(const std::vector<Spot>& spots, Mark mark);
  void field(const Rectangle& where, Mark mark);
  void coloured(const Rectangle& where, std::string_view colour);  ///< "#rrggbb", stays in print
  void dot(Spot at);
  void words(Spot at, Anchor anchor, std::string_view text);
  void heading(Spot at, std::string_view text);

  const std::string& svg() const { return svg_; }

 private:
  std::string svg_;
};

/// A straight line for all spots that it passes within tolerance_px, piece by piece.
std::vector<Spot> thinned(const std::vector<Spot>& spots, double tolerance_px);

/// A finished picture, what it says in words, and its numbers.
struct Chart {
  std::string title;
  std::string summary;  ///< for who cannot see it: what it shows, with its main numbers
  double width_px, height_px;
  std::string svg;      ///< strokes and words
  std::string caption;  ///< what is drawn and what is not
  /// A table of about the same numbers.
  std::vector<std::string> heads;
  std::vector<std::vector<std::string>> rows;
};

/// Colours and dashes of all marks, on light ground, on dark ground and in print: CSS.
std::string chart_style();

/// For a page that holds chart_style() already.
std::string inline_svg(const Chart& chart);

/// A file of its own.
std::string svg_file(const Chart& chart);

}  // namespace thickset

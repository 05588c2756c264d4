#include "reporting/charts/drawing.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.h"
#include "reporting/markup.h"

namespace thickset {
namespace {

const char* class_of(Mark mark) {
  switch (mark) {
    case Mark::first: return "line first";
    case Mark::second: return "line second";
    case Mark::third: return "line third";
    case Mark::wide: return "line wide";
    case Mark::limit: return "line limit";
    case Mark::pointer: return "pointer";
    case Mark::grid: return "grid";
    case Mark::axis: return "axis";
    case Mark::point: return "line point";
    case Mark::band: return "band";
    case Mark::area: return "area";
  }
  return "";
}

const char* name_of(Anchor anchor) {
  switch (anchor) {
    case Anchor::start: return "start";
    case Anchor::middle: return "middle";
    case Anchor::end: return "end";
  }
  return "";
}

double distance_px(Spot spot, Spot from, Spot to) {
  const double along_x = to.x_px - from.x_px, along_y = to.y_px - from.y_px;
  const double length = std::hypot(along_x, along_y);
  const double x = spot.x_px - from.x_px, y = spot.y_px - from.y_px;
  if (length == 0.0) return std::hypot(x, y);
  return std::abs(along_x * y - along_y * x) / length;
}

/// Marks what to keep strictly between two spots that are kept.
void keep_between(const std::vector<Spot>& spots, double tolerance_px, std::vector<bool>& keep) {
  std::vector<std::pair<std::size_t, std::size_t>> open{{0, spots.size() - 1}};
  while (!open.empty()) {
    const auto [from, to] = open.back();
    open.pop_back();
    std::size_t farthest = from;
    double largest_px = tolerance_px;
    for (std::size_t i = from + 1; i < to; ++i) {
      const double off_px = distance_px(spots[i], spots[from], spots[to]);
      if (off_px > largest_px) {
        largest_px = off_px;
        farthest = i;
      }
    }
    if (farthest == from) continue;
    keep[farthest] = true;
    open.emplace_back(from, farthest);
    open.emplace_back(farthest, to);
  }
}

}  // namespace

double width_px(std::string_view text) {
  constexpr double of_a_letter_px = 0.62 * text_px;
  return of_a_letter_px * static_cast<double>(count_characters(text));
}

std::string cut_to_width(std::string_view text, double widest_px) {
  if (width_px(text) <= widest_px) return std::string{text};
  std::size_t end = 0;
  while (end < text.size()) {
    const std::size_t next = end + std::max<std::size_t>(utf8_length_at(text, end), 1);
    if (width_px(text.substr(0, next)) + width_px("…") > widest_px) break;
    end = next;
  }
  return std::string{text.substr(0, end)} + "…";
}

std::vector<Spot> thinned(const std::vector<Spot>& spots, double tolerance_px) {
  if (spots.size() < 3) return spots;
  std::vector<bool> keep(spots.size(), false);
  keep.front() = keep.back() = true;
  keep_between(spots, tolerance_px, keep);
  std::vector<Spot> kept;
  for (std::size_t i = 0; i < spots.size(); ++i) {
    if (keep[i]) kept.push_back(spots[i]);
  }
  return kept;
}

void Drawing::line(Spot from, Spot to, Mark mark) {
  svg_ +=
      fmt::format("<line class=\"{}\" x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\"/>\n",
                  class_of(mark),
                  from.x_px,
                  from.y_px,
                  to.x_px,
                  to.y_px);
}

void Drawing::polyline(const std::vector<Spot>& spots, Mark mark) {
  if (spots.empty()) return;
  constexpr double unseen_px = 0.05;
  std::string points;
  for (const Spot& spot : thinned(spots, unseen_px)) {
    points += fmt::format("{:.1f},{:.1f} ", spot.x_px, spot.y_px);
  }
  points.pop_back();
  svg_ += fmt::format("<polyline class=\"{}\" points=\"{}\"/>\n", class_of(mark), points);
}

void Drawing::field(const Rectangle& where, Mark mark) {
  svg_ += fmt::format(
      "<rect class=\"{}\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\"/>\n",
      class_of(mark),
      where.left_px,
      where.top_px,
      where.right_px - where.left_px,
      where.bottom_px - where.top_px);
}

void Drawing::coloured(const Rectangle& where, std::string_view colour) {
  svg_ += fmt::format(
      "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"{}\"/>\n",
      where.left_px,
      where.top_px,
      where.right_px - where.left_px,
      where.bottom_px - where.top_px,
      colour);
}

void Drawing::dot(Spot at) {
  svg_ += fmt::format(
      "<circle class=\"dot\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"2.8\"/>\n", at.x_px, at.y_px);
}

void Drawing::words(Spot at, Anchor anchor, std::string_view text) {
  svg_ += fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n",
                      at.x_px,
                      at.y_px,
                      name_of(anchor),
                      escaped(text));
}

void Drawing::heading(Spot at, std::string_view text) {
  svg_ += fmt::format("<text class=\"strong\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n",
                      at.x_px,
                      at.y_px,
                      escaped(text));
}

}  // namespace thickset

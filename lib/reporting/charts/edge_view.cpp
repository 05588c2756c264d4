#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reporting/charts/across.h"
#include "reporting/charts/firing_view.h"
#include "stress/polarised_light.h"
#include "stress/retardation.h"

namespace thickset {
namespace {

constexpr double edge_width_px = 480.0;
constexpr double edge_height_px = 272.0;
constexpr Rectangle piece{16.0, 32.0, 464.0, 84.0};
constexpr Rectangle scale_strip{16.0, 186.0, 464.0, 210.0};
constexpr int pieces = 150;  // of a strip

std::string on_screen(double retardation_m) {
  const stress::ScreenColour colour = stress::colour_on_screen(retardation_m);
  const auto byte = [](double part) { return static_cast<int>(std::lround(255.0 * part)); };
  return fmt::format(
      "#{:02x}{:02x}{:02x}", byte(colour.red), byte(colour.green), byte(colour.blue));
}

template <class RetardationAt>
void strip(Drawing& drawing, const Rectangle& where, const RetardationAt& retardation_m) {
  const double wide_px = (where.right_px - where.left_px) / pieces;
  for (int i = 0; i < pieces; ++i) {
    // Each reaches to the end, under those after it: no ground shines through between them.
    drawing.coloured({where.left_px + wide_px * i, where.top_px, where.right_px, where.bottom_px},
                     on_screen(retardation_m((i + 0.5) / pieces)));
  }
  for (const double y_px : {where.top_px, where.bottom_px}) {
    drawing.line({where.left_px, y_px}, {where.right_px, y_px}, Mark::axis);
  }
  for (const double x_px : {where.left_px, where.right_px}) {
    drawing.line({x_px, where.top_px}, {x_px, where.bottom_px}, Mark::axis);
  }
}

/// Words under a place of a strip, with a pointer, kept within the picture and off those before.
class Labels {
 public:
  Labels(Drawing& drawing, double y_px) : drawing_{drawing}, y_px_{y_px} {}

  bool put(double at_px, const std::string& text) {
    const double half_px = 0.5 * width_px(text);
    const double middle_px = std::clamp(at_px, half_px, edge_width_px - half_px);
    const Rectangle box{middle_px - half_px - 3.0, y_px_, middle_px + half_px + 3.0, y_px_ + 1.0};
    for (const Rectangle& other : taken_) {
      if (box.overlaps(other)) return false;
    }
    taken_.push_back(box);
    drawing_.line({at_px, y_px_ - text_px - 8.0}, {at_px, y_px_ - text_px - 1.0}, Mark::axis);
    drawing_.words({middle_px, y_px_}, Anchor::middle, text);
    return true;
  }

 private:
  Drawing& drawing_;
  double y_px_;
  std::vector<Rectangle> taken_;
};

std::string named(double retardation_m) {
  return fmt::format("{} {:.0f} nm", stress::colour_at(retardation_m).name, retardation_m * 1e9);
}

void draw_scale(Drawing& drawing, double highest_m) {
  drawing.heading({scale_strip.left_px, scale_strip.top_px - 10.0}, "scale: retardation in nm");
  strip(drawing, scale_strip, [&](double share) { return share * highest_m; });
  const Scale scale{{0.0, highest_m * 1e9}, scale_strip.left_px, scale_strip.right_px};
  Labels numbers{drawing, scale_strip.bottom_px + text_px + 8.0};
  constexpr int most = 9;
  for (const double tick : nice_ticks(scale.values, most)) {
    numbers.put(scale.at(tick), fmt::format("{:.0f}", tick));
  }
  Labels names{drawing, scale_strip.bottom_px + 2.0 * text_px + 18.0};
  for (const stress::InterferenceColour& colour : stress::interference_colours()) {
    const double middle_m = colour.low_m == 0.0 ? 0.0 : 0.5 * (colour.low_m + colour.high_m);
    if (middle_m <= highest_m) names.put(scale.at(middle_m * 1e9), std::string{colour.name});
  }
}

}  // namespace

std::optional<Chart> edge_view(const FiringView& view, std::optional<Length> path) {
  const Casting& casting = view.context.casting;
  const Shape shape = casting.governing_shape();
  if (std::holds_alternative<Rod>(shape) || std::holds_alternative<Ball>(shape)) return {};
  const Display& display = view.context.display;
  const bool alike = both_sides_alike(casting, view.context.kiln);
  const double path_m = path.value_or(assumed_path).in_m();
  const double stress_optical_per_Pa = casting.glass.stress_optical_per_Pa.value;
  const Across stress_Pa = across(
      view.measured.profile.position_m, view.measured.profile.stress_Pa, alike, display.lengths);
  const auto at = [&](double share) {
    const double position = stress_Pa.position.front() +
                            share * (stress_Pa.position.back() - stress_Pa.position.front());
    return stress_optical_per_Pa * path_m * value_at(stress_Pa.position, stress_Pa.value, position);
  };
  double highest_m = 0.0;
  for (const double value_Pa : stress_Pa.value) {
    highest_m = std::max(highest_m, stress_optical_per_Pa * path_m * std::abs(value_Pa));
  }

  Drawing drawing;
  drawing.heading({piece.left_px, piece.top_px - 10.0},
                  fmt::format("from face to face, {}, light through {} of glass",
                              show(Length::from_m((alike ? 2.0 : 1.0) *
                                                  view.measured.profile.position_m.back()),
                                   display),
                              show(path.value_or(assumed_path), display)));
  strip(drawing, piece, [&](double share) { return std::abs(at(share)); });
  Labels labels{drawing, piece.bottom_px + text_px + 10.0};
  const double wide_px = piece.right_px - piece.left_px;
  labels.put(piece.left_px, named(std::abs(at(0.0))));
  labels.put(piece.right_px, named(std::abs(at(1.0))));
  labels.put(piece.left_px + 0.5 * wide_px, named(std::abs(at(0.5))));
  Labels dark{drawing, piece.bottom_px + 2.0 * text_px + 20.0};
  constexpr int steps = 400;
  for (int i = 1; i <= steps; ++i) {
    const double before = at(static_cast<double>(i - 1) / steps);
    const double after = at(static_cast<double>(i) / steps);
    if ((before < 0.0) == (after < 0.0)) continue;
    const double share = (i - 1 + before / (before - after)) / steps;
    dark.put(piece.left_px + share * wide_px, "black: no stress");
  }
  constexpr double least_scale_m = 600e-9, most_scale_m = 1800e-9;
  draw_scale(drawing, std::clamp(1.1 * highest_m, least_scale_m, most_scale_m));

  Chart chart{
      .title = "Predicted view between crossed polarisers",
      .summary = fmt::format("Through {} of glass: at the faces {} and {}, in the middle {}.",
                             show(path.value_or(assumed_path), display),
                             named(std::abs(at(0.0))),
                             named(std::abs(at(1.0))),
                             named(std::abs(at(0.5)))),
      .width_px = edge_width_px,
      .height_px = edge_height_px,
      .svg = "<g class=\"colours\">\n" + drawing.svg() + "</g>\n",
      .caption = fmt::format(
          "Seen along the faces, which stand at 45° to the polarisers; daylight, clear glass even "
          "in "
          "temperature. {} Twice the path shows twice the retardation. Screens and papers show "
          "colours only roughly: go by the nm. Near the ends of the piece it looks different.",
          path ? "The path is the one you gave."
               : "The path is assumed: give your own with --path."),
      .heads = {position_words(alike, display.lengths), "stays, MPa", "nm", "looks"},
      .rows = {}};
  if (!std::holds_alternative<Slab>(shape)) {
    chart.caption += " It is the view of the slab that stands for the shape.";
  }
  constexpr int rows = 12;
  for (int i = 0; i <= rows; ++i) {
    const double share = static_cast<double>(i) / rows;
    const double position = stress_Pa.position.front() +
                            share * (stress_Pa.position.back() - stress_Pa.position.front());
    const double retardation_m = std::abs(at(share));
    chart.rows.push_back(
        {fmt::format("{:.{}f}", position + 0.0, display.lengths == Lengths::inch ? 2 : 1),
         fmt::format("{:.2f}",
                     in_MPa(value_at(stress_Pa.position, stress_Pa.value, position)) + 0.0),
         fmt::format("{:.0f}", retardation_m * 1e9),
         std::string{stress::colour_at(retardation_m).name}});
  }
  return chart;
}

}  // namespace thickset

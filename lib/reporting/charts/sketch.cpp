#include "reporting/charts/sketch.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.h"

namespace thickset {
namespace {

constexpr int temperature_rows = 12, tension_rows = 6;
constexpr int label_columns = 6;

// Each has a stroke and a letter of its own; the colours, of ECMA-48 8.3.117, are besides.
constexpr CellStroke kiln_stroke{'k', 1, 0, ""};
constexpr CellStroke core_stroke{'c', 5, 3, "31"};
constexpr CellStroke surface_stroke{'s', 1, 2, "36"};
constexpr CellStroke tension_stroke{'t', 1, 0, "31"};
constexpr CellStroke limit_stroke{'-', 2, 2, "33"};

/// What the frame of a field is drawn with.
struct Frame {
  const char *side, *tick, *corner, *below, *below_tick;
};
constexpr Frame drawn_frame{"\u2502", "\u2524", "\u2514", "\u2500", "\u252C"};
constexpr Frame ascii_frame{"|", "+", "+", "-", "+"};

const Frame& frame_of(const SketchStyle& style) {
  return style.utf8 ? drawn_frame : ascii_frame;
}

std::string legend(const char* name, const CellStroke& stroke, const SketchStyle& style) {
  const std::string sample = sample_of(stroke, style.utf8);
  return style.colour && !stroke.paint.empty()
             ? fmt::format("{} \x1b[0;{}m{}\x1b[0m", name, stroke.paint, sample)
             : fmt::format("{} {}", name, sample);
}

/// The rows of a field with the numbers of its ticks on the left.
std::string with_labels(const CellPlot& plot, Range y, int most_ticks, const SketchStyle& style) {
  const Frame& frame = frame_of(style);
  const std::vector<double> ticks = nice_ticks(y, most_ticks);
  const int decimals = decimals_of(ticks);
  const std::vector<std::string> lines = plot.lines(style.colour);
  std::string text;
  for (std::size_t row = 0; row < lines.size(); ++row) {
    const auto tick = std::find_if(ticks.begin(), ticks.end(), [&](double value) {
      return plot.row_of(value) == static_cast<int>(row);
    });
    const bool named = tick != ticks.end();
    text += named
                ? fmt::format("{:>{}.{}f} {}", *tick + 0.0, label_columns - 1, decimals, frame.tick)
                : fmt::format("{:>{}}{}", "", label_columns, frame.side);
    std::string line = lines[row];
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + '\n';
  }
  return text;
}

/// The line below a field and the hours below that.
std::string time_axis(double until_h, int columns, const SketchStyle& style) {
  const Frame& frame = frame_of(style);
  constexpr int most_ticks = 7;
  const std::vector<double> ticks = hour_ticks({0.0, until_h}, most_ticks);
  std::vector<bool> is_tick(static_cast<std::size_t>(columns), false);
  std::string numbers(static_cast<std::size_t>(label_columns + 1), ' ');
  for (const double hour : ticks) {
    const auto column =
        static_cast<std::size_t>(std::lround(hour / until_h * static_cast<double>(columns - 1)));
    is_tick[column] = true;
    const std::string number = fmt::format("{:g}", hour);
    const std::size_t at = column + label_columns + 1;
    if (at + number.size() > static_cast<std::size_t>(columns + label_columns + 1)) continue;
    if (at > numbers.size()) numbers.append(at - numbers.size(), ' ');
    numbers += number;
  }
  std::string line = std::string(label_columns, ' ') + frame.corner;
  for (const bool tick : is_tick) line += tick ? frame.below_tick : frame.below;
  return line + '\n' + numbers + '\n' + std::string(label_columns + 1, ' ') +
         "hours from the start\n";
}

/// Numbers of the steps above the field, where they begin; those that would touch are left out.
std::string starts_line(const FiringView& view, double until_h, int columns) {
  std::string line;
  for (const FiringView::Start& start : view.starts) {
    const double share = start.time_s / 3600.0 / until_h;
    if (!(share >= 0.0 && share <= 1.0)) continue;
    const auto column = static_cast<std::size_t>(std::lround(share * (columns - 1)));
    const std::size_t at = column + label_columns + 1;
    const bool touches = !line.empty() && at < line.size() + 1;
    if (touches || column + start.number.size() > static_cast<std::size_t>(columns)) continue;
    line.append(at - line.size(), ' ');
    line += start.number;
  }
  return line.empty() ? line : line + '\n';
}

std::string temperature_field(const FiringView& view,
                              double until_h,
                              int columns,
                              const SketchStyle& style) {
  const Temperatures t = temperatures_of(view);
  Range y = with(range_of(t.kiln), 0.0);
  for (const std::vector<double>* values : {&t.surface, &t.core}) {
    const Range other = range_of(*values);
    y = with(with(y, other.low), other.high);
  }
  y.high += 1.0;  // a firing that stays where it is has a height too
  CellPlot plot{columns, temperature_rows, {0.0, until_h}, y, style.utf8};
  plot.curve(t.hours, t.surface, surface_stroke);
  plot.curve(t.hours, t.core, core_stroke);
  plot.curve(t.hours, t.kiln, kiln_stroke);
  constexpr int most_ticks = 6;
  return fmt::format("Temperature, {}{}, as computed: {}, {}, {}\n",
                     style.utf8 ? "\u00B0" : "",
                     letter(view.context.display.degrees),
                     legend("kiln", kiln_stroke, style),
                     legend("core", core_stroke, style),
                     legend("surface", surface_stroke, style)) +
         starts_line(view, until_h, columns) + with_labels(plot, y, most_ticks, style);
}

std::string tension_field(const FiringView& view,
                          double until_h,
                          int columns,
                          const SketchStyle& style) {
  std::vector<double> hours, tension_MPa;
  double peak_MPa = 0.0;
  for (const History::Row& row : view.measured.history.rows) {
    if (row.time_s > view.until_s) break;
    if (row.time_s < view.counts_from_s) continue;
    hours.push_back(row.time_s / 3600.0);
    tension_MPa.push_back(std::max(0.0, row.tension_Pa * 1e-6));
    peak_MPa = std::max(peak_MPa, tension_MPa.back());
  }
  const double limit_MPa = view.context.limits.tension.in_MPa();
  const Range y{0.0, 1.05 * std::max(limit_MPa, peak_MPa)};
  CellPlot plot{columns, tension_rows, {0.0, until_h}, y, style.utf8};
  plot.level(limit_MPa, limit_stroke);
  plot.curve(hours, tension_MPa, tension_stroke);
  constexpr int most_ticks = 4;
  return fmt::format("Tension in the glass, MPa: {}, largest {:.1f}; {}\n",
                     sample_of(tension_stroke, style.utf8),
                     peak_MPa,
                     legend(fmt::format("limit {:g}", limit_MPa).c_str(), limit_stroke, style)) +
         with_labels(plot, y, most_ticks, style);
}

}  // namespace

std::string sketch(const FiringView& view, const SketchStyle& style) {
  constexpr int narrowest = 40, widest = 80;
  // A column is left free: a line as wide as the terminal makes some of them begin another.
  const int columns = std::clamp(style.columns, narrowest, widest) - label_columns - 2;
  const double until_h = std::max(view.until_s / 3600.0, 1e-3);
  std::string text = temperature_field(view, until_h, columns, style);
  if (style.tension) text += tension_field(view, until_h, columns, style);
  return text + time_axis(until_h, columns, style);
}

}  // namespace thickset

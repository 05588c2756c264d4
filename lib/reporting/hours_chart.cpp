#include "reporting/hours_chart.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <fmt/format.h>

#include "reporting/charts/panel.h"
#include "reporting/table_report.h"

namespace thickset {
namespace {

constexpr double hours_width_px = 480.0;
constexpr double hours_height_px = 376.0;
constexpr Rectangle hours_field{44.0, 66.0, 382.0, 326.0};

/// The moments at which parts end.
constexpr std::size_t n_moments = 5;
struct Moment {
  const char* name;
  Mark mark;
};
constexpr std::array<Moment, n_moments> moments = {{{"arrived", Mark::second},
                                                    {"even", Mark::point},
                                                    {"relaxed", Mark::first},
                                                    {"set", Mark::third},
                                                    {"may open", Mark::wide}}};

std::array<double, n_moments> ends_h(const TailHours& parts) {
  std::array<double, n_moments> ends = {in_h(parts.arriving),
                                        in_h(parts.evening),
                                        in_h(parts.relaxing),
                                        in_h(parts.setting),
                                        in_h(parts.running_out)};
  for (std::size_t i = 1; i < n_moments; ++i) ends[i] += ends[i - 1];
  return ends;
}

/// Rows with a plan that have no row without one between them: a line may join them.
std::vector<std::vector<const ThicknessRow*>> stretches_of(std::span<const ThicknessRow> rows) {
  std::vector<std::vector<const ThicknessRow*>> stretches;
  bool goes_on = false;
  for (const ThicknessRow& row : rows) {
    if (row.planned()) {
      if (!goes_on) stretches.emplace_back();
      stretches.back().push_back(&row);
    }
    goes_on = row.planned();
  }
  return stretches;
}

/// Widened where there is one value alone.
Range with_width(Range range, double least) {
  const double middle = 0.5 * (range.low + range.high);
  return with(with(range, middle - 0.5 * least), middle + 0.5 * least);
}

/// 1, 2 and 5 times powers of ten, by their logarithms.
std::vector<Tick> hour_decades(Range logarithms) {
  std::vector<Tick> ticks;
  for (double decade = std::floor(logarithms.low); decade <= logarithms.high; decade += 1.0) {
    for (const double times : {1.0, 2.0, 5.0}) {
      const double time_h = times * std::pow(10.0, decade);
      const double at = std::log10(time_h);
      if (at >= logarithms.low && at <= logarithms.high) {
        ticks.push_back({at, fmt::format("{:g}", time_h)});
      }
    }
  }
  return ticks;
}

/// Names to the right of the field, each with a pointer to where its curve ends; the latest moment
/// is the uppermost.
void draw_names(Drawing& drawing, const Panel& panel, double x, const TailHours& parts) {
  constexpr double apart_px = text_px + 3.0;
  constexpr double pointer_px = 22.0;
  std::array<double, n_moments> at_px{}, name_px{};
  const std::array<double, n_moments> ends = ends_h(parts);
  for (std::size_t i = 0; i < n_moments; ++i) {
    at_px[i] = name_px[i] = panel.y().at(std::log10(ends[i]));
  }
  for (std::size_t i = n_moments - 1; i-- > 0;) {
    name_px[i] = std::max(name_px[i], name_px[i + 1] + apart_px);
  }
  name_px[0] = std::min(name_px[0], hours_field.bottom_px);
  for (std::size_t i = 1; i < n_moments; ++i) {
    name_px[i] = std::min(name_px[i], name_px[i - 1] - apart_px);
  }
  const double x_px = panel.x().at(x);
  for (std::size_t i = 0; i < n_moments; ++i) {
    const double name_left_px = hours_field.right_px + pointer_px;
    drawing.line({x_px + 4.0, at_px[i]}, {name_left_px - 3.0, name_px[i]}, Mark::pointer);
    drawing.words({name_left_px, name_px[i] + 0.35 * text_px}, Anchor::start, moments[i].name);
  }
}

Panel panel_of(const std::vector<std::vector<const ThicknessRow*>>& stretches, Lengths unit) {
  std::vector<double> x, y;
  for (const auto& stretch : stretches) {
    for (const ThicknessRow* const row : stretch) {
      x.push_back(in_lengths(row->thickness, unit));
      const std::array<double, n_moments> ends = ends_h(row->hours);
      y.push_back(std::log10(ends.front()));
      y.push_back(std::log10(ends.back()));
    }
  }
  if (x.empty()) return {hours_field, {0.0, 1.0}, {0.0, 1.0}};
  constexpr double around = 0.06;  // of the widths shown
  const auto with_room = [&](Range range) {
    const double room = around * (range.high - range.low);
    return Range{range.low - room, range.high + room};
  };
  constexpr double least_decades = 0.5;
  const double least_x = 0.2 * range_of(x).high;
  return {hours_field,
          with_room(with_width(range_of(x), least_x)),
          with_room(with_width(range_of(y), least_decades))};
}

}  // namespace

Chart hours_chart(const ReportContext& context,
                  std::span<const ThicknessRow> rows,
                  bool says_glass) {
  const Display& display = context.display;
  const auto stretches = stretches_of(rows);
  const Panel panel = panel_of(stretches, display.lengths);
  Drawing drawing;
  // Bold letters are wider.
  constexpr double heading_px = 0.9 * hours_width_px;
  const std::string kind = tabled_kind(context.casting, display.lengths);
  drawing.heading({0.0, text_px}, cut_to_width(kind, heading_px));
  if (says_glass) {
    drawing.words({0.0, 2.2 * text_px},
                  Anchor::start,
                  cut_to_width(context.casting.glass.title, hours_width_px));
  }
  if (stretches.empty()) {
    panel.axes(drawing, {}, {}, "hours since the start");
    drawing.words(panel.at(0.5, 0.5), Anchor::middle, "no thickness has a plan: nothing to draw");
  } else {
    constexpr int most_x = 8;
    panel.axes(drawing,
               ticks_of(nice_ticks(panel.x().values, most_x)),
               hour_decades(panel.y().values),
               "hours since the start");
  }
  panel.below(drawing, fmt::format("thickness, {}", unit_name(display.lengths)));
  for (const auto& stretch : stretches) {
    for (std::size_t i = n_moments; i-- > 0;) {
      Curve curve{moments[i].name, moments[i].mark, {}, {}};
      for (const ThicknessRow* const row : stretch) {
        curve.x.push_back(in_lengths(row->thickness, display.lengths));
        curve.y.push_back(std::log10(ends_h(row->hours)[i]));
      }
      panel.curve(drawing, curve);
      for (std::size_t n = 0; n < curve.x.size(); ++n) {
        drawing.dot(panel.at(curve.x[n], curve.y[n]));
      }
    }
  }
  std::string summary = table_to_do(context, rows);
  std::replace(summary.begin(), summary.end(), '\n', ' ');
  Chart chart{.title = "Hours against thickness",
              .summary = summary,
              .width_px = hours_width_px,
              .height_px = hours_height_px,
              .svg = {},
              .caption =
                  "Each line is when a part is over; the next part is what lies between it "
                  "and the line above. From mark to mark the hours grow 2 to 2.5 times. "
                  "Dots are computed, the lines between them are not.",
              .heads = {"thickness"},
              .rows = {}};
  for (const Moment& moment : moments) chart.heads.push_back(fmt::format("{}, h", moment.name));
  for (const auto& stretch : stretches) {
    for (const ThicknessRow* const row : stretch) {
      std::vector<std::string> cells{show(row->thickness, display)};
      for (const double end_h : ends_h(row->hours)) cells.push_back(fmt::format("{:.1f}", end_h));
      chart.rows.push_back(std::move(cells));
    }
  }
  if (!stretches.empty()) {
    const ThicknessRow& last = *stretches.back().back();
    draw_names(drawing, panel, in_lengths(last.thickness, display.lengths), last.hours);
  }
  chart.svg = drawing.svg();
  return chart;
}

}  // namespace thickset

#include <algorithm>

#include <fmt/format.h>

#include "reporting/charts/firing_view.h"

namespace thickset {
namespace {

constexpr double temperature_width_px = 480.0;
constexpr double temperature_height_px = 300.0;
constexpr Rectangle temperatures_field{44.0, 44.0, 468.0, 256.0};

/// The annealing range: a field with edges, named at its right end, where all is cold.
void draw_range(Drawing& drawing, const Panel& panel, const FiringView& view) {
  const Degrees degrees = view.context.display.degrees;
  const Glass& glass = view.context.casting.glass;
  const double low = in_degrees(glass.strain_point.value, degrees);
  const double high = in_degrees(glass.annealing_point.value, degrees);
  const double top_px = panel.y().at(high), bottom_px = panel.y().at(low);
  drawing.field({temperatures_field.left_px, top_px, temperatures_field.right_px, bottom_px},
                Mark::band);
}

void name_range(Drawing& drawing, const Panel& panel, const FiringView& view) {
  const Display& display = view.context.display;
  const Glass& glass = view.context.casting.glass;
  const double top_px = panel.y().at(in_degrees(glass.annealing_point.value, display.degrees));
  const double bottom_px = panel.y().at(in_degrees(glass.strain_point.value, display.degrees));
  drawing.words({temperatures_field.right_px - 4.0, top_px - 5.0},
                Anchor::end,
                "annealing point " + show(glass.annealing_point.value, display));
  drawing.words({temperatures_field.right_px - 4.0, bottom_px + text_px},
                Anchor::end,
                "strain point " + show(glass.strain_point.value, display));
}

/// Numbers of the steps above the field, where they begin; those that would touch are left out.
void draw_starts(Drawing& drawing, const Panel& panel, const FiringView& view) {
  double free_from_px = 0.0;
  for (const FiringView::Start& start : view.starts) {
    const double x_px = panel.x().at(start.time_s / 3600.0);
    const double half_px = 0.5 * width_px(start.number) + 2.0;
    if (start.time_s > view.until_s || x_px - half_px < free_from_px) continue;
    free_from_px = x_px + half_px;
    drawing.line(
        {x_px, temperatures_field.top_px - 5.0}, {x_px, temperatures_field.top_px}, Mark::axis);
    drawing.words({x_px, temperatures_field.top_px - 8.0}, Anchor::middle, start.number);
  }
}

/// The kiln of the plan, where the view has one, as far as it runs beside the firing.
Curve plan_of(const FiringView& view) {
  Curve curve{"plan", Mark::wide, {}, {}};
  if (view.planned == nullptr) return curve;
  for (const History::Row& row : view.planned->rows) {
    const double time_s = row.time_s + view.planned_later_s;
    if (time_s < 0.0 || time_s > view.until_s) continue;
    curve.x.push_back(time_s / 3600.0);
    curve.y.push_back(in_degrees(Temperature::from_K(row.kiln_K), view.context.display.degrees));
  }
  return curve;
}

void put_table(Chart& chart,
               const FiringView& view,
               const Temperatures& t,
               const Curve& plan,
               double until_h) {
  const char* degree = letter(view.context.display.degrees);
  chart.heads = {"hours", fmt::format("kiln, °{}", degree), "surface", "core"};
  if (!plan.x.empty()) chart.heads.push_back("plan");
  constexpr int most_rows = 24;
  for (const double hour : hour_ticks({0.0, until_h}, most_rows)) {
    const auto cell = [&](const std::vector<double>& values) {
      return fmt::format("{:.0f}", value_at(t.hours, values, hour));
    };
    std::vector<std::string> row{
        fmt::format("{:g}", hour), cell(t.kiln), cell(t.surface), cell(t.core)};
    if (!plan.x.empty()) {
      const bool runs = hour >= plan.x.front() && hour <= plan.x.back();
      row.push_back(runs ? fmt::format("{:.0f}", value_at(plan.x, plan.y, hour)) : "");
    }
    chart.rows.push_back(std::move(row));
  }
}

}  // namespace

Chart temperature_chart(const FiringView& view) {
  const Display& display = view.context.display;
  const Temperatures t = temperatures_of(view);
  const Curve plan = plan_of(view);
  Range y = range_of(t.kiln);
  for (const std::vector<double>* values : {&t.surface, &t.core, &plan.y}) {
    if (values->empty()) continue;
    const Range other = range_of(*values);
    y = with(with(y, other.low), other.high);
  }
  y = with(y, 0.0);
  y.high += 1.0 + 0.04 * (y.high - y.low);
  // Room for the name above the range.
  constexpr double name_share = 0.1;
  const double annealing =
      in_degrees(view.context.casting.glass.annealing_point.value, display.degrees);
  y = with(y, annealing + name_share * (annealing - y.low));
  const double until_h = std::max(view.until_s / 3600.0, 1e-3);
  const Panel panel{temperatures_field, {0.0, until_h}, y};
  std::vector<Curve> curves{{"core", Mark::third, t.hours, t.core},
                            {"surface", Mark::second, t.hours, t.surface},
                            {"kiln", Mark::first, t.hours, t.kiln}};
  if (!plan.x.empty()) curves.insert(curves.begin(), plan);
  Drawing drawing;
  draw_range(drawing, panel, view);
  constexpr int most_x = 9, most_y = 9;
  panel.axes(drawing,
             time_ticks(until_h, most_x),
             ticks_of(nice_ticks(y, most_y)),
             fmt::format("°{}", letter(display.degrees)));
  panel.below(drawing, "hours from the start");
  draw_starts(drawing, panel, view);
  for (const Curve& curve : curves) panel.curve(drawing, curve);
  name_range(drawing, panel, view);
  panel.names(drawing, curves);

  const History::Row& worst = view.measured.history.at(worst_moment_s(view));
  double largest_K = 0.0;
  for (const History::Row& row : view.measured.history.rows) {
    largest_K = std::max(largest_K, row.largest_difference_K);
  }
  Chart chart{.title = "Temperature of kiln, surface and core",
              .summary = fmt::format(
                  "Over {} the kiln goes from {} to {}. The core differs from the surface by at "
                  "most {}; at the largest tension, after {}, the core is at {} and the surface at "
                  "{}.",
                  show(hours(until_h)),
                  show(Temperature::from_K(view.measured.history.rows.front().kiln_K), display),
                  show(Temperature::from_K(view.measured.history.at(view.until_s).kiln_K), display),
                  show_difference(TemperatureDifference::from_K(largest_K), display),
                  show(seconds(worst.time_s)),
                  show(Temperature::from_K(worst.centre_K), display),
                  show(Temperature::from_K(worst.surface_K), display)),
              .width_px = temperature_width_px,
              .height_px = temperature_height_px,
              .svg = drawing.svg(),
              .caption =
                  "As computed for the kiln as it can fall. The band is the annealing range, from "
                  "strain point to annealing point.",
              .heads = {},
              .rows = {}};
  if (!plan.x.empty()) {
    chart.caption +=
        " The plan is the kiln as it was meant to go, put beside it where the fall begins.";
  }
  if (!view.starts.empty()) chart.caption += " Numbers above: where the steps begin.";
  put_table(chart, view, t, plan, until_h);
  return chart;
}

}  // namespace thickset

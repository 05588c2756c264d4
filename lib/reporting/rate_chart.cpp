#include "reporting/rate_chart.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "reporting/charts/panel.h"

namespace thickset {
namespace {

constexpr double rates_width_px = 480.0;
constexpr double rates_height_px = 356.0;
constexpr Rectangle rates_field{44.0, 110.0, 468.0, 310.0};

/// A stage: two points at one rate. y is the logarithm of the rate.
void put(Curve& curve, Temperature from, Temperature to, Rate rate, Degrees degrees) {
  for (const Temperature at : {from, to}) {
    curve.x.push_back(in_degrees(at, degrees));
    curve.y.push_back(std::log10(in_degrees_per_h(rate, degrees)));
  }
}

Curve curve_of(const char* name, Mark mark, const Course& course, Degrees degrees) {
  Curve curve{name, mark, {}, {}};
  for (std::size_t i = 0; i < course.size(); ++i) {
    put(curve,
        Temperature::from_K(course.from_K(i)),
        Temperature::from_K(course.to_K[i]),
        Rate::from_K_per_s(course.rate_K_per_s[i]),
        degrees);
  }
  return curve;
}

Curve keyed_curve(const Tail& tail, Degrees degrees) {
  Curve curve{"as keyed", Mark::first, {}, {}};
  Temperature from = tail.hold.temperature;
  for (const Stage& stage : tail.stages) {
    put(curve, from, stage.to, stage.rate, degrees);
    from = stage.to;
  }
  return curve;
}

/// 1, 2 and 5 times powers of ten.
std::vector<Tick> rate_ticks(Range logarithms) {
  std::vector<Tick> ticks;
  for (double decade = std::floor(logarithms.low); decade <= logarithms.high; decade += 1.0) {
    for (const double times : {1.0, 2.0, 5.0}) {
      const double rate = times * std::pow(10.0, decade);
      const double at = std::log10(rate);
      if (at >= logarithms.low && at <= logarithms.high) {
        ticks.push_back({at, fmt::format("{:g}", rate)});
      }
    }
  }
  return ticks;
}

/// A vertical line at a fixed point of the glass that the picture reaches, its name above the
/// field in a row of its own.
void draw_point(Drawing& drawing,
                const Panel& panel,
                const std::string& name,
                double degrees,
                int row) {
  const Range x = panel.x().values;
  if (degrees > std::max(x.low, x.high) || degrees < std::min(x.low, x.high)) return;
  const double x_px = panel.x().at(degrees);
  const double name_px = rates_field.top_px - 8.0 - row * (text_px + 2.0);
  drawing.line({x_px, name_px + 4.0}, {x_px, rates_field.bottom_px}, Mark::point);
  drawing.words({x_px, name_px}, Anchor::start, name);
}

void put_table(Chart& chart, const std::vector<Curve>& curves, const std::string& degree) {
  chart.heads = {"cool-down", "from, " + degree, "to, " + degree, "rate, " + degree + "/h"};
  constexpr std::size_t most_rows = 24;
  for (const Curve& curve : curves) {
    const std::size_t stages = curve.x.size() / 2;
    if (stages > most_rows / 2) continue;  // the many bands
    for (std::size_t i = 0; i < stages && chart.rows.size() < most_rows; ++i) {
      chart.rows.push_back({curve.name,
                            fmt::format("{:.0f}", curve.x[2 * i]),
                            fmt::format("{:.0f}", curve.x[2 * i + 1]),
                            fmt::format("{:.3g}", std::pow(10.0, curve.y[2 * i]))});
    }
  }
}

}  // namespace

Chart rate_chart(const ReportContext& context, const Tail& tail) {
  const Degrees degrees = context.display.degrees;
  const Glass& glass = context.casting.glass;
  const std::string degree = fmt::format("°{}", letter(degrees));
  std::vector<Curve> curves{curve_of("many bands", Mark::wide, tail.banded, degrees)};
  if (tail.planned.size() > 0) {
    curves.push_back(curve_of("stages", Mark::second, tail.planned, degrees));
  }
  curves.push_back(keyed_curve(tail, degrees));
  Range x = range_of(curves.front().x), y = range_of(curves.front().y);
  for (const Curve& curve : curves) {
    const Range of_x = range_of(curve.x), of_y = range_of(curve.y);
    x = with(with(x, of_x.low), of_x.high);
    y = with(with(y, of_y.low), of_y.high);
  }
  constexpr double room_around = 0.12;  // of a decade
  y = {y.low - room_around, y.high + room_around};
  const Panel panel{rates_field, {x.high, x.low}, y};  // falling to the right

  Drawing drawing;
  drawing.heading({0.0, text_px}, describe(context.casting.shape, context.display.lengths));
  drawing.words({0.0, 2.2 * text_px}, Anchor::start, glass.title);
  constexpr int most_x = 8;
  panel.axes(drawing, ticks_of(nice_ticks(x, most_x)), rate_ticks(y), degree + "/h");
  panel.below(drawing, "kiln temperature, " + degree + ", falling to the right");
  constexpr double above_points_px = 2.0 * text_px + 8.0;
  panel.legend(drawing, curves, above_points_px);
  draw_point(
      drawing, panel, "annealing point", in_degrees(glass.annealing_point.value, degrees), 1);
  draw_point(drawing, panel, "strain point", in_degrees(glass.strain_point.value, degrees), 0);
  for (const Curve& curve : curves) panel.curve(drawing, curve);

  Chart chart{.title = "Cooling rate against temperature",
              .summary = fmt::format("From the hold at {} the tail cools in {} stages.",
                                     show(tail.hold.temperature, context.display),
                                     tail.stages.size()),
              .width_px = rates_width_px,
              .height_px = rates_height_px,
              .svg = drawing.svg(),
              .caption = "Many bands and stages are before whole numbers; as keyed is after.",
              .heads = {},
              .rows = {}};
  put_table(chart, curves, degree);
  return chart;
}

}  // namespace thickset

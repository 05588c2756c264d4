#include "reporting/rate_chart.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include <fmt/format.h>

namespace thickset {
namespace {

// In pixels.
constexpr double width = 860.0;
constexpr double height = 540.0;
constexpr double left = 84.0;
constexpr double right = width - 24.0;
constexpr double top = 112.0;
constexpr double bottom = height - 60.0;

constexpr double wanted_ticks = 9.0;
constexpr double label_apart = 96.0;  // labels of two points nearer than this stand on two lines

/// Places in the picture of temperatures, falling to the right, and of rates, by decades.
struct Axes {
  double hottest, coldest;  // in the degrees shown
  double log_slowest, log_fastest;

  double x(double degrees) const {
    return left + (hottest - degrees) / (hottest - coldest) * (right - left);
  }
  double y(double rate) const {
    return bottom - (std::log10(rate) - log_slowest) / (log_fastest - log_slowest) * (bottom - top);
  }
};

/// One cool-down, in the degrees shown.
struct Curve {
  std::vector<double> from, to, rate;
};

Curve curve_of(const Course& course, Degrees degrees) {
  Curve curve;
  for (std::size_t i = 0; i < course.size(); ++i) {
    curve.from.push_back(in_degrees(Temperature::from_K(course.from_K(i)), degrees));
    curve.to.push_back(in_degrees(Temperature::from_K(course.to_K[i]), degrees));
    curve.rate.push_back(in_degrees_per_h(Rate::from_K_per_s(course.rate_K_per_s[i]), degrees));
  }
  return curve;
}

Curve keyed_curve(const Tail& tail, Degrees degrees) {
  Curve curve;
  Temperature from = tail.hold.temperature;
  for (const Stage& stage : tail.stages) {
    curve.from.push_back(in_degrees(from, degrees));
    curve.to.push_back(in_degrees(stage.to, degrees));
    curve.rate.push_back(in_degrees_per_h(stage.rate, degrees));
    from = stage.to;
  }
  return curve;
}

Axes axes_of(const std::vector<Curve>& curves) {
  Axes axes{-1e9, 1e9, 1e9, -1e9};
  for (const Curve& curve : curves) {
    for (std::size_t i = 0; i < curve.rate.size(); ++i) {
      axes.hottest = std::max(axes.hottest, curve.from[i]);
      axes.coldest = std::min(axes.coldest, curve.to[i]);
      axes.log_slowest = std::min(axes.log_slowest, std::log10(curve.rate[i]));
      axes.log_fastest = std::max(axes.log_fastest, std::log10(curve.rate[i]));
    }
  }
  constexpr double room_around = 0.12;  // of a decade
  axes.log_slowest -= room_around;
  axes.log_fastest += room_around;
  return axes;
}

std::string line(double x0, double y0, double x1, double y1, const char* style) {
  return fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" {}/>\n",
                     x0,
                     y0,
                     x1,
                     y1,
                     style);
}

std::string words(double x, double y, const char* anchor, const std::string& what) {
  return fmt::format(
      "<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor, what);
}

std::string stairs(const Axes& axes, const Curve& curve, const char* style) {
  std::string points;
  for (std::size_t i = 0; i < curve.rate.size(); ++i) {
    for (const double degrees : {curve.from[i], curve.to[i]}) {
      points += fmt::format("{:.1f},{:.1f} ", axes.x(degrees), axes.y(curve.rate[i]));
    }
  }
  points.pop_back();
  return fmt::format("<polyline points=\"{}\" fill=\"none\" {}/>\n", points, style);
}

/// The widest of 1, 2, 5 times a power of ten that gives about so many ticks.
double tick_of(double range) {
  const double rough = range / wanted_ticks;
  const double decade = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double times : {1.0, 2.0, 5.0}) {
    if (times * decade >= rough) return times * decade;
  }
  return 10.0 * decade;
}

std::string grid(const Axes& axes, const std::string& degree) {
  const char* faint = "stroke=\"#d8d5cf\" stroke-width=\"1\"";
  std::string text;
  const double tick = tick_of(axes.hottest - axes.coldest);
  for (double at = std::ceil(axes.coldest / tick) * tick; at <= axes.hottest; at += tick) {
    text += line(axes.x(at), top, axes.x(at), bottom, faint);
    text += words(axes.x(at), bottom + 20.0, "middle", fmt::format("{:.0f}", at));
  }
  const double first_decade = std::floor(axes.log_slowest);
  for (double decade = first_decade; decade <= axes.log_fastest; decade += 1.0) {
    for (const double times : {1.0, 2.0, 5.0}) {
      const double rate = times * std::pow(10.0, decade);
      if (std::log10(rate) < axes.log_slowest || std::log10(rate) > axes.log_fastest) continue;
      text += line(left, axes.y(rate), right, axes.y(rate), faint);
      text += words(left - 8.0, axes.y(rate) + 4.5, "end", fmt::format("{:g}", rate));
    }
  }
  text += line(left, bottom, right, bottom, "stroke=\"#57534e\" stroke-width=\"1.5\"");
  text += line(left, top, left, bottom, "stroke=\"#57534e\" stroke-width=\"1.5\"");
  text += words(0.5 * (left + right),
                height - 14.0,
                "middle",
                fmt::format("kiln temperature, {}, falling to the right", degree));
  return text + fmt::format(
                    "<text transform=\"translate(22 {:.1f}) rotate(-90)\" "
                    "text-anchor=\"middle\">cooling rate, {}/h</text>\n",
                    0.5 * (top + bottom),
                    degree);
}

/// A vertical line at each fixed point of the glass that the picture reaches.
std::string fixed_points(const Axes& axes, const Glass& glass, Degrees degrees) {
  struct Point {
    const char* name;
    Temperature at;
  };
  const std::array<Point, 2> points{Point{"annealing point", glass.annealing_point.value},
                                    Point{"strain point", glass.strain_point.value}};
  std::string text;
  double label_x = -label_apart;
  double label_y = top - 8.0;
  for (const Point& point : points) {
    const double at = in_degrees(point.at, degrees);
    if (at > axes.hottest || at < axes.coldest) continue;
    const double x = axes.x(at);
    label_y = x - label_x < label_apart ? label_y - 16.0 : top - 8.0;
    label_x = x;
    text += line(x, label_y + 4.0, x, bottom, "stroke=\"#8a6d3b\" stroke-dasharray=\"2 4\"");
    text += words(x, label_y, "start", point.name);
  }
  return text;
}

struct Drawn {
  const char* name;
  const char* style;
  Curve curve;
};

std::string legend(const std::vector<Drawn>& drawn) {
  constexpr double sample = 36.0;
  constexpr double column = 250.0;
  std::string text;
  double x = left;
  for (const Drawn& one : drawn) {
    text += line(x, 50.0, x + sample, 50.0, one.style);
    text += words(x + sample + 8.0, 54.5, "start", one.name);
    x += column;
  }
  return text;
}

/// Angle brackets and ampersands of a title would end the picture.
std::string escaped(const std::string& text) {
  std::string result;
  for (const char c : text) {
    switch (c) {
      case '<': result += "&lt;"; break;
      case '>': result += "&gt;"; break;
      case '&': result += "&amp;"; break;
      default: result += c;
    }
  }
  return result;
}

}  // namespace

std::string rate_chart(const ReportContext& context, const Tail& tail) {
  const Degrees degrees = context.display.degrees;
  std::vector<Drawn> drawn = {{"many bands, nothing rounded",
                               "stroke=\"#b9b2a6\" stroke-width=\"5\"",
                               curve_of(tail.banded, degrees)}};
  if (tail.planned.size() > 0) {
    drawn.push_back({"stages, nothing rounded",
                     "stroke=\"#1d6fa5\" stroke-width=\"2\" stroke-dasharray=\"7 4\"",
                     curve_of(tail.planned, degrees)});
  }
  drawn.push_back(
      {"as keyed", "stroke=\"#1c1917\" stroke-width=\"2\"", keyed_curve(tail, degrees)});
  std::vector<Curve> curves;
  for (const Drawn& one : drawn) curves.push_back(one.curve);
  const Axes axes = axes_of(curves);

  std::string text = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" "
      "height=\"{1:.0f}\" font-family=\"sans-serif\" font-size=\"13\" fill=\"#292524\">\n"
      "<rect width=\"{0:.0f}\" height=\"{1:.0f}\" fill=\"#ffffff\"/>\n",
      width,
      height);
  text += fmt::format(
      "<text x=\"{:.1f}\" y=\"26\" font-size=\"15\">Cool-down from the hold: {}, "
      "{}</text>\n",
      left,
      escaped(describe(context.casting.shape, context.display.lengths)),
      escaped(context.casting.glass.title));
  text += legend(drawn);
  text += grid(axes, degrees == Degrees::celsius ? "°C" : "°F");
  text += fixed_points(axes, context.casting.glass, degrees);
  for (const Drawn& one : drawn) text += stairs(axes, one.curve, one.style);
  return text + "</svg>\n";
}

}  // namespace thickset

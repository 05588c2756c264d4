#include "reporting/charts/panel.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr double gap_px = 6.0;  // between an axis and its numbers

/// The last place where a curve comes down through a level.
std::optional<double> comes_down_through(const Curve& curve, double level) {
  for (std::size_t i = curve.x.size() - 1; i > 0; --i) {
    const double before = curve.y[i - 1], after = curve.y[i];
    if (before < level || after > level || before == after) continue;
    return curve.x[i - 1] + (curve.x[i] - curve.x[i - 1]) * (before - level) / (before - after);
  }
  return std::nullopt;
}

}  // namespace

std::vector<Tick> ticks_of(const std::vector<double>& values) {
  std::vector<Tick> ticks;
  const int decimals = decimals_of(values);
  for (const double value : values)
    ticks.push_back({value, fmt::format("{:.{}f}", value, decimals)});
  return ticks;
}

double value_at(const std::vector<double>& x, const std::vector<double>& y, double where) {
  const auto after = std::upper_bound(x.begin(), x.end(), where);
  if (after == x.begin()) return y.front();
  if (after == x.end()) return y.back();
  const auto i = static_cast<std::size_t>(after - x.begin());
  return y[i - 1] + (y[i] - y[i - 1]) * (where - x[i - 1]) / (x[i] - x[i - 1]);
}

Panel::Panel(const Rectangle& field, Range x, Range y)
    : field_{field}, x_{x, field.left_px, field.right_px}, y_{y, field.bottom_px, field.top_px} {}

void Panel::axes(Drawing& drawing,
                 const std::vector<Tick>& x_ticks,
                 const std::vector<Tick>& y_ticks,
                 const std::string& above) const {
  for (const Tick& tick : y_ticks) {
    const double y_px = y_.at(tick.value);
    drawing.line({field_.left_px, y_px}, {field_.right_px, y_px}, Mark::grid);
    drawing.words({field_.left_px - gap_px, y_px + 0.35 * text_px}, Anchor::end, tick.text);
  }
  for (const Tick& tick : x_ticks) {
    const double x_px = x_.at(tick.value);
    drawing.line({x_px, field_.bottom_px}, {x_px, field_.bottom_px + 4.0}, Mark::axis);
    drawing.words({x_px, field_.bottom_px + gap_px + text_px}, Anchor::middle, tick.text);
  }
  drawing.line({field_.left_px, field_.bottom_px}, {field_.right_px, field_.bottom_px}, Mark::axis);
  drawing.heading({0.0, field_.top_px - 10.0}, above);
}

void Panel::below(Drawing& drawing, const std::string& text) const {
  drawing.words({field_.right_px, field_.bottom_px + gap_px + 2.3 * text_px}, Anchor::end, text);
}

void Panel::curve(Drawing& drawing, const Curve& curve) const {
  const Range y = y_.values;
  std::vector<Spot> spots;
  const auto finish = [&] {
    drawing.polyline(spots, curve.mark);
    spots.clear();
  };
  const auto inside = [&](double value) { return value >= y.low && value <= y.high; };
  for (std::size_t i = 0; i < curve.x.size(); ++i) {
    if (i > 0 && inside(curve.y[i]) != inside(curve.y[i - 1])) {
      const double edge = std::max(curve.y[i], curve.y[i - 1]) > y.high ? y.high : y.low;
      const double share = (edge - curve.y[i - 1]) / (curve.y[i] - curve.y[i - 1]);
      spots.push_back(at(curve.x[i - 1] + share * (curve.x[i] - curve.x[i - 1]), edge));
      if (!inside(curve.y[i])) finish();
    }
    if (inside(curve.y[i])) spots.push_back(at(curve.x[i], curve.y[i]));
  }
  finish();
}

void Panel::level(Drawing& drawing, double value, const std::string& name) const {
  const double y_px = y_.at(value);
  drawing.line({field_.left_px, y_px}, {field_.right_px, y_px}, Mark::limit);
  drawing.words({field_.right_px, y_px - 5.0}, Anchor::end, name);
}

bool Panel::free_of(const Rectangle& box, const std::vector<Curve>& curves) const {
  constexpr double step_px = 2.0;
  for (const Curve& curve : curves) {
    double before_px = y_.at(value_at(curve.x, curve.y, x_.values.low));
    for (double x_px = field_.left_px; x_px <= field_.right_px; x_px += step_px) {
      const double share = (x_px - field_.left_px) / (field_.right_px - field_.left_px);
      const double x = x_.values.low + share * (x_.values.high - x_.values.low);
      const double y_px = y_.at(value_at(curve.x, curve.y, x));
      const Rectangle passed{
          x_px - step_px, std::min(before_px, y_px) - 1.0, x_px, std::max(before_px, y_px) + 1.0};
      if (passed.overlaps(box)) return false;
      before_px = y_px;
    }
  }
  return box.right_px <= field_.right_px && box.bottom_px <= field_.bottom_px;
}

bool Panel::name(Drawing& drawing,
                 const Curve& curve,
                 const std::vector<Curve>& curves,
                 double& top_px) const {
  constexpr double line_px = text_px + 4.0;
  constexpr double step_px = 2.0;
  constexpr double clear_px = 14.0;  // of the pointer
  for (double y_px = top_px; y_px + line_px < field_.bottom_px; y_px += step_px) {
    const double middle_px = y_px + 0.5 * line_px;
    const double share = (field_.bottom_px - middle_px) / (field_.bottom_px - field_.top_px);
    const double level = y_.values.low + share * (y_.values.high - y_.values.low);
    const auto own = comes_down_through(curve, level);
    if (!own) continue;
    double right_px = x_.at(*own);
    for (const Curve& other : curves) {
      if (const auto where = comes_down_through(other, level)) {
        right_px = std::max(right_px, x_.at(*where));
      }
    }
    const double left_px = right_px + clear_px;
    const Rectangle box{left_px - 4.0, y_px, left_px + width_px(curve.name), y_px + line_px};
    if (!free_of(box, curves)) continue;
    const Spot on_curve = at(*own, level);
    drawing.line(on_curve, {left_px - 3.0, middle_px}, Mark::pointer);
    drawing.dot(on_curve);
    drawing.words({left_px, middle_px + 0.35 * text_px}, Anchor::start, curve.name);
    top_px = y_px + line_px;
    return true;
  }
  return false;
}

void Panel::legend(Drawing& drawing, const std::vector<Curve>& curves, double raised_px) const {
  constexpr double sample_px = 26.0;
  const double y_px = field_.top_px - 10.0 - raised_px;
  const double middle_px = y_px - 0.35 * text_px;
  double right_px = field_.right_px;
  for (auto curve = curves.rbegin(); curve != curves.rend(); ++curve) {
    drawing.words({right_px, y_px}, Anchor::end, curve->name);
    right_px -= width_px(curve->name) + 4.0;
    drawing.polyline({{right_px - sample_px, middle_px}, {right_px, middle_px}}, curve->mark);
    right_px -= sample_px + 12.0;
  }
}

void Panel::names(Drawing& drawing, const std::vector<Curve>& curves) const {
  double top_px = field_.top_px + 2.0;
  std::vector<Curve> left_over;
  for (const Curve& curve : curves) {
    if (!name(drawing, curve, curves, top_px)) left_over.push_back(curve);
  }
  constexpr double above_step_numbers_px = text_px + 2.0;
  legend(drawing, left_over, above_step_numbers_px);
}

}  // namespace thickset

#pragma once

#include <string>
#include <utility>
#include <vector>

#include "reporting/charts/drawing.h"
#include "reporting/charts/scale.h"

namespace thickset {

/// A tick of an axis and what stands beside it.
struct Tick {
  double value;
  std::string text;
};
std::vector<Tick> ticks_of(const std::vector<double>& values);

/// A line of a chart: values against values.
struct Curve {
  std::string name;
  Mark mark;
  std::vector<double> x, y;
};

/// A field of a chart with its axes.
class Panel {
 public:
  Panel(const Rectangle& field, Range x, Range y);

  const Scale& x() const { return x_; }
  const Scale& y() const { return y_; }
  Spot at(double x, double y) const { return {x_.at(x), y_.at(y)}; }
  const Rectangle& field() const { return field_; }

  /// Lines and numbers of both axes; `above` names what goes upwards, and its unit.
  void axes(Drawing& drawing,
            const std::vector<Tick>& x_ticks,
            const std::vector<Tick>& y_ticks,
            const std::string& above) const;
  void below(Drawing& drawing, const std::string& text) const;  ///< names what goes to the right
  /// A curve, cut off where it leaves the field upwards or downwards.
  void curve(Drawing& drawing, const Curve& curve) const;
  /// A level that has a name: a limit.
  void level(Drawing& drawing, double value, const std::string& name) const;

  /// Names above the field, each after a piece of its line, the last one at the right end.
  /// raised_px: how far above the field's usual heading line.
  void legend(Drawing& drawing, const std::vector<Curve>& curves, double raised_px = 0.0) const;

  /// Names beside falling curves, one below the other, each with a pointer to its curve; in the
  /// order given. Names keep off all curves; those that find no room stand above the field, beside
  /// a piece of their line.
  void names(Drawing& drawing, const std::vector<Curve>& curves) const;

 private:
  bool name(Drawing& drawing,
            const Curve& curve,
            const std::vector<Curve>& curves,
            double& top_px) const;
  bool free_of(const Rectangle& box, const std::vector<Curve>& curves) const;

  Rectangle field_;
  Scale x_, y_;
};

/// The value of a curve between its points; outside of them the nearest.
double value_at(const std::vector<double>& x, const std::vector<double>& y, double where);

}  // namespace thickset

#include <algorithm>

#include <fmt/format.h>

#include "reporting/charts/firing_view.h"
#include "stress/retardation.h"

namespace thickset {
namespace {

constexpr double stress_width_px = 480.0;
constexpr double stress_height_px = 330.0;
constexpr Rectangle stress_upper{44.0, 32.0, 468.0, 136.0};
constexpr Rectangle stress_lower{44.0, 190.0, 468.0, 286.0};

struct Stresses {
  std::vector<double> hours, tension_MPa;            // from where tension counts
  std::vector<double> set_hours, staying_nm_per_cm;  // from where gradients can stay
};

Stresses stresses_of(const FiringView& view) {
  Stresses s;
  for (const History::Row& row : view.measured.history.rows) {
    if (row.time_s > view.until_s) break;
    if (row.time_s < view.counts_from_s) continue;
    s.hours.push_back(row.time_s / 3600.0);
    s.tension_MPa.push_back(std::max(0.0, row.tension_Pa * 1e-6));
  }
  const double stress_optical_per_Pa = view.context.casting.glass.stress_optical_per_Pa.value;
  const double from_s = std::max(view.measured.window_start_s, view.counts_from_s);
  for (const History::Row& row : view.measured.permanent_history().rows) {
    if (row.time_s > view.until_s) break;
    if (row.time_s < from_s) continue;
    s.set_hours.push_back(row.time_s / 3600.0);
    s.staying_nm_per_cm.push_back(
        stress::retardation(stress_optical_per_Pa, row.staying_Pa).in_nm_per_cm());
  }
  return s;
}

void put_table(Chart& chart, const Stresses& s, double until_h) {
  chart.heads = {"hours", "largest tension, MPa", "would stay, nm/cm"};
  constexpr int most_rows = 24;
  for (const double hour : hour_ticks({0.0, until_h}, most_rows)) {
    const auto cell = [&](const std::vector<double>& at, const std::vector<double>& values) {
      if (at.empty() || hour < at.front()) return std::string{"-"};
      return fmt::format("{:.1f}", value_at(at, values, hour) + 0.0);
    };
    chart.rows.push_back({fmt::format("{:g}", hour),
                          cell(s.hours, s.tension_MPa),
                          cell(s.set_hours, s.staying_nm_per_cm)});
  }
}

}  // namespace

Chart stress_chart(const FiringView& view) {
  const Limits& limits = view.context.limits;
  const Stresses s = stresses_of(view);
  const double until_h = std::max(view.until_s / 3600.0, 1e-3);
  const double limit_MPa = limits.tension.in_MPa();
  const double grade = limits.grade.in_nm_per_cm();
  const double left = view.measured.permanent.retardation.in_nm_per_cm();
  const double peak_MPa = view.measured.peak_tension_Pa * 1e-6;
  constexpr int most_x = 9, most_y = 5;

  Drawing drawing;
  const Range tension{0.0, 1.2 * std::max(limit_MPa, peak_MPa)};
  const Panel pulls{stress_upper, {0.0, until_h}, tension};
  pulls.axes(drawing,
             time_ticks(until_h, most_x),
             ticks_of(nice_ticks(tension, most_y)),
             "largest tension in the glass, MPa");
  pulls.level(drawing, limit_MPa, fmt::format("limit {:g} MPa", limit_MPa));
  pulls.curve(drawing, {"tension", Mark::third, s.hours, s.tension_MPa});

  // While the glass still relaxes most of what would stay goes again: the scale is for the rest.
  Range stays{0.0, 1.6 * std::max(grade, left)};
  double highest = 0.0;
  for (const double value : s.staying_nm_per_cm) {
    stays = with(stays, std::max(value, -stays.high));
    highest = std::max(highest, value);
  }
  stays.high = 1.6 * std::max(grade, left);
  const Panel sets{stress_lower, {0.0, until_h}, stays};
  sets.axes(drawing,
            time_ticks(until_h, most_x),
            ticks_of(nice_ticks(stays, most_y)),
            "would stay in the middle, nm/cm");
  sets.below(drawing, "hours from the start");
  sets.level(drawing, grade, fmt::format("limit {:g} nm/cm", grade));
  sets.curve(drawing, {"stays", Mark::second, s.set_hours, s.staying_nm_per_cm});

  Chart chart{
      .title = "Tension and growing permanent stress",
      .summary = fmt::format("The largest tension is {:.1f} MPa, most of what is shown after {}; "
                             "the limit is {:g} MPa. "
                             "What stays is {:.1f} nm/cm; the limit is {:g} nm/cm.",
                             peak_MPa,
                             show(seconds(worst_moment_s(view))),
                             limit_MPa,
                             left,
                             grade),
      .width_px = stress_width_px,
      .height_px = stress_height_px,
      .svg = drawing.svg(),
      .caption =
          "Above: the largest tension anywhere in the glass at each moment. Below: what would "
          "stay in the middle if all temperatures evened out at that moment, which is the computed "
          "stress less that of the temperature differences; drawn from where differences can stay.",
      .heads = {},
      .rows = {}};
  if (highest > stays.high) {
    chart.caption += fmt::format(
        " It goes up to {:.0f} nm/cm, off the scale, while the glass is hot enough to relax most "
        "of it.",
        highest);
  }
  put_table(chart, s, until_h);
  return chart;
}

}  // namespace thickset

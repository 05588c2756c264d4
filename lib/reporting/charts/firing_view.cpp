#include "reporting/charts/firing_view.h"

#include <fmt/format.h>

namespace thickset {

double worst_moment_s(const FiringView& view) {
  double worst_s = view.counts_from_s;
  double largest_Pa = 0.0;
  for (const History::Row& row : view.measured.history.rows) {
    if (row.time_s > view.until_s) break;
    if (row.time_s < view.counts_from_s || row.tension_Pa <= largest_Pa) continue;
    largest_Pa = row.tension_Pa;
    worst_s = row.time_s;
  }
  return worst_s;
}

Section worst_section(const FiringView& view, Temperature start) {
  return section_at(view.context.casting,
                    view.context.kiln,
                    view.measured.followed.air,
                    start,
                    Respect::steady_difference,
                    worst_moment_s(view));
}

std::vector<double> hours_of(const History& history, double until_s) {
  std::vector<double> hours;
  for (const History::Row& row : history.rows) {
    if (row.time_s > until_s) break;
    hours.push_back(row.time_s / 3600.0);
  }
  return hours;
}

std::vector<Tick> time_ticks(double until_h, int most) {
  return ticks_of(hour_ticks({0.0, until_h}, most));
}

Temperatures temperatures_of(const FiringView& view) {
  const Degrees degrees = view.context.display.degrees;
  Temperatures t;
  t.hours = hours_of(view.measured.history, view.until_s);
  for (std::size_t i = 0; i < t.hours.size(); ++i) {
    const History::Row& row = view.measured.history.rows[i];
    t.kiln.push_back(in_degrees(Temperature::from_K(row.kiln_K), degrees));
    t.surface.push_back(in_degrees(Temperature::from_K(row.surface_K), degrees));
    t.core.push_back(in_degrees(Temperature::from_K(row.centre_K), degrees));
  }
  return t;
}

}  // namespace thickset

#include "reporting/charts/firing_view.h"

#include <fmt/format.h>

namespace thickset {

double worst_moment_s(const FiringView& view) {
  const std::vector<History::Row>& rows = view.measured.history.rows;
  const History::Row* worst = &rows.front();
  for (const History::Row& row : rows) {
    if (row.time_s < view.counts_from_s) continue;
    if (row.tension_Pa > worst->tension_Pa || worst->time_s < view.counts_from_s) worst = &row;
  }
  return worst->time_s;
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

}  // namespace thickset

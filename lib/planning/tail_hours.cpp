#include "planning/tail_hours.h"

#include <algorithm>
#include <vector>

#include "stress/permanent_estimate.h"

namespace thickset {
namespace {

/// When the kiln is first as cool as the hold.
double kiln_first_there_s(const AirCurve& air, double hold_K) {
  constexpr double there_K = 0.01;
  for (const AirCurve::Corner& corner : air.corners) {
    if (corner.T_K <= hold_K + there_K) return corner.time_s;
  }
  return air.end_s();
}

double hold_ends_s(const Tail& tail) {
  double end_s = 0.0;
  for (std::size_t i = 0; i < tail.fitted.from_step.size(); ++i) {
    if (tail.fitted.from_step[i] == 0) end_s = tail.check.measured.steps[i].end_s;
  }
  return end_s;
}

/// From when on the slowest glass is no hotter than this.
double cooler_from_s(const std::vector<History::Row>& rows, double limit_K) {
  for (std::size_t i = rows.size(); i-- > 0;) {
    if (!(rows[i].centre_K > limit_K)) continue;
    if (i + 1 == rows.size()) return rows[i].time_s;
    const History::Row &hotter = rows[i], &cooler = rows[i + 1];
    const double share = (hotter.centre_K - limit_K) / (hotter.centre_K - cooler.centre_K);
    return hotter.time_s + share * (cooler.time_s - hotter.time_s);
  }
  return 0.0;
}

}  // namespace

Temperature has_set_at(const Glass& glass) {
  return glass.strain_point.value - TemperatureDifference::from_K(stress::setting_below_strain_K);
}

TailHours hours_of(const Tail& tail, const Casting& casting) {
  const Measured& measured = tail.check.measured;
  const double end_s = in_s(tail.check.opens ? tail.check.open_after : tail.check.program_time);
  const double hold_end_s = std::min(hold_ends_s(tail), end_s);
  const double set_s = cooler_from_s(measured.history.rows, has_set_at(casting.glass).in_K());
  // Moments in their order: none before the one before, none after the end.
  double last_s = 0.0;
  const auto until = [&](double moment_s, double latest_s) {
    const double now_s = std::clamp(moment_s, last_s, std::max(last_s, latest_s));
    const Duration part = seconds(now_s - last_s);
    last_s = now_s;
    return part;
  };
  const double kiln_s = kiln_first_there_s(measured.followed.air, tail.hold.temperature.in_K());
  TailHours parts;
  parts.arriving = until(kiln_s + in_s(tail.hold.arriving), hold_end_s);
  parts.evening = until(last_s + in_s(tail.hold.evening), hold_end_s);
  parts.relaxing = until(hold_end_s, end_s);
  parts.setting = until(set_s, end_s);
  parts.running_out = until(end_s, end_s);
  return parts;
}

}  // namespace thickset

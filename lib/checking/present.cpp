#include "checking/present.h"

#include <algorithm>
#include <utility>

#include "glass/moved_points.h"

namespace thickset {
namespace {

// The diffusivity of a glass known by its kind is known so well; assumed.
constexpr double spreads_within = 0.10;

/// Heat spreads so many times as fast: the heat that the glass holds is changed.
Casting spreading(const Casting& casting, double times) {
  Casting changed = casting;
  changed.glass.density_kg_per_m3.value /= times;
  return changed;
}

Doubtful doubtful(const FiringSoFar& so_far,
                  std::span<const History> histories,
                  double History::Row::*value) {
  Doubtful result{};
  for (const History& history : histories) {
    const double here = history.at(so_far.now_s()).*value;
    if (&history == &histories.front()) result = {here, here, here};
    result.lowest = std::min(result.lowest, here);
    result.highest = std::max(result.highest, here);
  }
  return result;
}

}  // namespace

InDoubt::InDoubt(const Casting& casting, const FiringSoFar& so_far, const Kiln& kiln)
    : cases_{
          Case{casting, TemperatureDifference::from_K(0.0)},
          Case{casting, sensor_tolerance(kiln, so_far.kiln)},
          Case{casting, TemperatureDifference::from_K(-sensor_tolerance(kiln, so_far.kiln).in_K())},
          Case{spreading(casting, 1.0 - spreads_within), TemperatureDifference::from_K(0.0)},
          Case{spreading(casting, 1.0 + spreads_within), TemperatureDifference::from_K(0.0)}} {
  const auto& points = casting.glass.annealing_point_uncertainty;
  if (points.assumed) return;
  for (const double off_K : {-points.value.in_K(), points.value.in_K()}) {
    Case moved{casting, TemperatureDifference::from_K(0.0)};
    moved.casting.glass = with_points_moved(
        casting.glass, TemperatureDifference::from_K(off_K), TemperatureDifference::from_K(0.0));
    cases_.push_back(std::move(moved));
  }
}

KilnCourse InDoubt::as_in(const Case& one, KilnCourse course) {
  for (AirCurve::Corner& corner : course.followed.air.corners) corner.T_K += one.hotter.in_K();
  course.start = course.start + one.hotter;
  return course;
}

std::vector<History> InDoubt::histories(const FiringSoFar& so_far,
                                        const KilnCourse& course,
                                        const Kiln& kiln) const {
  std::vector<History> result;
  for (const Case& one : cases_) {
    const KilnCourse changed = as_in(one, course);
    result.push_back(simulate(one.casting,
                              kiln,
                              changed.followed.air,
                              changed.start,
                              Respect::steady_difference,
                              {.relaxation = so_far.relaxation}));
  }
  return result;
}

Present present(const FiringSoFar& so_far,
                const Kiln& kiln,
                std::span<const History> histories,
                double counts_from_s) {
  const History::Row& now = histories.front().at(so_far.now_s());
  Present result{.slowest_K = doubtful(so_far, histories, &History::Row::centre_K),
                 .surface_K = doubtful(so_far, histories, &History::Row::surface_K),
                 .mean_K = doubtful(so_far, histories, &History::Row::mean_K),
                 .surface_Pa = now.surface_Pa,
                 .centre_Pa = now.centre_Pa,
                 .tension_Pa = now.tension_Pa,
                 .pulled_Pa = 0.0,
                 .pulled_at_s = 0.0,
                 .sensor_tolerance = sensor_tolerance(kiln, so_far.kiln)};
  for (const History::Row& row : histories.front().rows) {
    if (row.time_s < counts_from_s || row.time_s > now.time_s) continue;
    if (row.tension_Pa > result.pulled_Pa) {
      result.pulled_Pa = row.tension_Pa;
      result.pulled_at_s = row.time_s;
    }
  }
  return result;
}

std::optional<Duration> until_slowest_at(Temperature cool,
                                         const FiringSoFar& so_far,
                                         std::span<const History> histories,
                                         Duration within) {
  double latest_s = 0.0;
  for (const History& history : histories) {
    if (history.rows.back().centre_K > cool.in_K()) return std::nullopt;
    for (std::size_t i = history.rows.size() - 1; i > 0; --i) {
      const History::Row& before = history.rows[i - 1];
      const History::Row& row = history.rows[i];
      if (row.time_s <= so_far.now_s()) break;
      if (before.centre_K <= cool.in_K()) continue;
      const double share = (before.centre_K - cool.in_K()) / (before.centre_K - row.centre_K);
      latest_s =
          std::max(latest_s, before.time_s + share * (row.time_s - before.time_s) - so_far.now_s());
      break;
    }
  }
  if (latest_s > in_s(within)) return std::nullopt;
  return seconds(latest_s);
}

double pull_if_opened_Pa(const Casting& casting,
                         const Present& now,
                         Temperature room,
                         const OpenedInto& into) {
  const double mean_K = std::max(now.mean_K.highest, room.in_K());
  return std::max(0.0, now.surface_Pa) +
         opening_tension_Pa(casting, Temperature::from_K(mean_K) - room, room, into);
}

}  // namespace thickset

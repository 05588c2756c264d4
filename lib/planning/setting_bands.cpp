#include "planning/setting_bands.h"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "planning/stages.h"
#include "simulation/steady_cooling.h"
#include "stress/permanent_estimate.h"
#include "stress/surface_tension.h"

namespace thickset {
namespace {

constexpr double band_K = 12.0;                // where stress sets
constexpr double sets_below_strain_K = 220.0;  // nothing worth a band sets below
constexpr double faster = 1.1;                 // of a band, to see what it leaves

// First guess of where stress sets: half of it above this far below the strain point at 1 K/h and
// 20 K higher for ten times the rate; 5 % still 95 K lower. Computed, not published.
constexpr double half_below_strain_K = 57.0;
constexpr double higher_per_decade_K = 20.0;
constexpr double tail_K = 95.0 / 2.944;  // of the logistic curve whose 5 % lies 95 K from its half

double fastest_by_estimate_K_per_s(const Casting& casting, const Limits& limits, double T_K) {
  const Shape shape = casting.governing_shape();
  return stress::rate_of_surface_tension_K_per_s(
             limits.tension.in_Pa(),
             casting.glass.biaxial_stress_Pa_per_K(),
             0.5 * equivalent_slabs(casting).steady_difference.in_m(),
             casting.glass.diffusivity_m2_per_s(T_K)) /
         stress::surface_tension_factor(shape);
}

/// The casting whose closed form asks for the slowest setting rate.
const Casting& most_careful(std::span<const Casting> castings, const Limits& limits) {
  assert(!castings.empty());
  return *std::min_element(
      castings.begin(), castings.end(), [&](const Casting& a, const Casting& b) {
        return estimate_rates(a, limits).setting < estimate_rates(b, limits).setting;
      });
}

std::vector<double> ends_K(const Casting& casting, double hold_K, double end_K) {
  const double strain_K = casting.glass.strain_point.value.in_K();
  const double low_K = std::max(end_K, strain_K - sets_below_strain_K);
  const int bands = std::max(1, static_cast<int>(std::lround((hold_K - low_K) / band_K)));
  std::vector<double> to_K;
  for (int i = 1; i <= bands; ++i) to_K.push_back(hold_K + (low_K - hold_K) * i / bands);
  if (low_K > end_K) to_K.push_back(end_K);
  return to_K;
}

/// By closed form: what a rate leaves in all, shared out over the bands.
std::vector<Band> estimated_bands(const Casting& casting,
                                  const StageBounds& bounds,
                                  const Limits& limits,
                                  double hold_K,
                                  std::span<const double> to_K) {
  const StageEstimate estimate = estimate_rates(casting, limits);
  const double left_per_rate = 1.0 / estimate.setting.in_K_per_s();
  const double half_K = casting.glass.strain_point.value.in_K() - half_below_strain_K +
                        higher_per_decade_K * std::log10(estimate.setting.in_K_per_h());
  std::vector<Band> bands;
  double from_K = hold_K;
  double set_above = 0.0;
  for (std::size_t i = 0; i < to_K.size(); ++i) {
    const double set = 1.0 / (1.0 + std::exp((to_K[i] - half_K) / tail_K));
    const bool last = i + 1 == to_K.size();
    bands.push_back(
        {.width_K = from_K - to_K[i],
         .left_per_rate = left_per_rate * (set - set_above),
         .fastest_K_per_s = std::min(bounds.fastest_K_per_s(from_K, to_K[i], last),
                                     fastest_by_estimate_K_per_s(casting, limits, from_K))});
    from_K = to_K[i];
    set_above = set;
  }
  return bands;
}

}  // namespace

SettingBands setting_bands(std::span<const Casting> castings,
                           const CoolDown& cool_down,
                           const StageBounds& bounds,
                           const Limits& limits,
                           double aim) {
  const Casting& casting = most_careful(castings, limits);
  const double hold_K = cool_down.hold().in_K();
  SettingBands setting{.bands = {},
                       .to_K = ends_K(casting, hold_K, bounds.end_K()),
                       .least_time_s = 0.0,
                       .course = {}};
  setting.bands = estimated_bands(casting, bounds, limits, hold_K, setting.to_K);
  const std::size_t n = setting.to_K.size();
  const auto quickest = [&] {
    Course course{hold_K, setting.to_K, {}};
    for (const BandGroup& group : quickest_groups(setting.bands, static_cast<int>(n), aim)) {
      course.rate_K_per_s.push_back(group.rate_K_per_s);
    }
    course.to_K.back() = bounds.last_target_K(course.from_K(n - 1), course.rate_K_per_s.back());
    return course;
  };

  const Course course = quickest();
  const CoolDown::Outcome base = cool_down.run(steps_of(course));
  const CoolDown::Trunk governing =
      cool_down.trunk(steps_of(course), cool_down.cases().subspan(base.governing(), 1));
  const double left = governing.outcome().left[0];
  std::vector<double> slope(n);
  double accounted = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    Course changed = course;
    changed.rate_K_per_s[i] *= faster;
    slope[i] = (cool_down.branch(governing, steps_of(changed)).left[0] - left) /
               ((faster - 1.0) * course.rate_K_per_s[i]);
    accounted += slope[i] * course.rate_K_per_s[i];
  }
  // What is left is homogeneous in the rates but for the shift of where it sets: scaled to all.
  const double scale = accounted > 0.0 ? left / accounted : 1.0;
  for (std::size_t i = 0; i < n; ++i) setting.bands[i].left_per_rate = scale * slope[i];
  // Likewise the fastest by tension, as the last band shows it.
  const double run_out = std::max(base.tension[n - 1], base.tension[n]);
  if (run_out > 0.0) {
    const double scale_of_fastest = std::clamp(
        course.rate_K_per_s[n - 1] / setting.bands[n - 1].fastest_K_per_s * aim / run_out,
        0.5,
        2.0);
    double from_K = hold_K;
    for (std::size_t i = 0; i < n; ++i) {
      const bool last = i + 1 == n;
      setting.bands[i].fastest_K_per_s =
          std::min(bounds.fastest_K_per_s(from_K, setting.to_K[i], last),
                   scale_of_fastest * fastest_by_estimate_K_per_s(casting, limits, from_K));
      from_K = setting.to_K[i];
    }
  }
  setting.course = quickest();
  // What it leaves beside what it should is made up for where stress sets, to first order.
  const CoolDown::Outcome last = cool_down.run(steps_of(setting.course));
  double setting_s = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const bool slowed_by_stress =
        setting.course.rate_K_per_s[i] < 0.99 * setting.bands[i].fastest_K_per_s;
    if (slowed_by_stress) setting_s += setting.course.asked_s(i);
  }
  setting.least_time_s = last.time_s + setting_s * (last.left[last.governing()] / aim - 1.0);
  return setting;
}

}  // namespace thickset

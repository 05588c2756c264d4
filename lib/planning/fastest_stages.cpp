#include "planning/fastest_stages.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "numerics/simplex_search.h"
#include "stress/permanent_estimate.h"
#include "stress/retardation.h"
#include "stress/surface_tension.h"

namespace thickset {
namespace {

constexpr double aim = 0.995;                  // of either limit
constexpr double aim_band = 0.004;             // near enough to the aim
constexpr double band_K = 12.0;                // width of a band where stress sets
constexpr double sets_below_strain_K = 220.0;  // nothing worth a band sets below
constexpr double of_natural_rate = 0.95;       // of the kiln's own fall that a stage may ask
constexpr double faster = 1.1;                 // of a band or stage, to see what it leaves
constexpr double most_change = 1.6;            // of a rate in one correction
constexpr int most_corrections = 5;
constexpr int most_balancings = 3;
constexpr double balanced = 0.03;          // of a limit: the rest is made up for to first order
constexpr double search_tolerance = 2e-3;  // of the time, over the simplex
constexpr double rate_step = 0.4;          // of the logarithm of a rate
constexpr double above_strain_K = 5.0;
constexpr double quick_first_rate = 10.0;  // times the rate after it, to begin a search
constexpr double end_step_K = 8.0;
constexpr double narrowest_stage_K = 6.0;

// First guess of where stress sets: half of it above this far below the strain point at 1 K/h and
// 20 K higher for ten times the rate; 5 % still 95 K lower. Computed, not published.
constexpr double half_below_strain_K = 57.0;
constexpr double higher_per_decade_K = 20.0;
constexpr double tail_K = 95.0 / 2.944;  // of the logistic curve whose 5 % lies 95 K from its half

}  // namespace

FastestStages::FastestStages(const Casting& casting,
                             const Kiln& kiln,
                             const CoolDown& cool_down,
                             const Firing& firing,
                             const Limits& limits,
                             const StageBounds& bounds)
    : casting_{&casting},
      cool_down_{&cool_down},
      natural_{kiln.natural_cooling.in_room(firing.room)},
      bounds_{bounds},
      allowed_Pa_{aim * stress::stress_of_retardation_Pa(casting.glass.stress_optical_per_Pa.value,
                                                         limits.grade)},
      tension_Pa_{aim * limits.tension.in_Pa()},
      estimate_{estimate_rates(casting, limits)} {
  lay_bands();
  measure_bands();
}

/// The kiln falls at least this fast by itself where the stage needs it: at its lower end, or in
/// the last stage, which may end late, at its upper one.
double FastestStages::fastest_of_kiln_K_per_s(double from_K, double to_K, bool last) const {
  const double at_K = last && !bounds_.never_late ? from_K : to_K;
  return of_natural_rate * natural_.rate_at(Temperature::from_K(at_K)).in_K_per_s();
}

double FastestStages::fastest_by_estimate_K_per_s(double T_K) const {
  const Shape shape = casting_->governing_shape();
  return stress::rate_of_surface_tension_K_per_s(
             tension_Pa_,
             casting_->glass.biaxial_stress_Pa_per_K(),
             0.5 * equivalent_slabs(shape).steady_difference.in_m(),
             casting_->glass.diffusivity_m2_per_s(T_K)) /
         stress::surface_tension_factor(shape);
}

void FastestStages::lay_bands() {
  const double hold_K = cool_down_->hold().in_K();
  const double end_K = bounds_.end.in_K();
  const double strain_K = casting_->glass.strain_point.value.in_K();
  const double low_K = std::max(end_K, strain_K - sets_below_strain_K);
  const int bands = std::max(1, static_cast<int>(std::lround((hold_K - low_K) / band_K)));
  for (int i = 1; i <= bands; ++i) band_to_K_.push_back(hold_K + (low_K - hold_K) * i / bands);
  if (low_K > end_K) band_to_K_.push_back(end_K);

  const double left =
      estimate_permanent_Pa(casting_->glass,
                            equivalent_slabs(casting_->governing_shape()).permanent_tension,
                            Rate::from_K_per_s(1.0));
  const double half_K = strain_K - half_below_strain_K +
                        higher_per_decade_K * std::log10(estimate_.setting.in_K_per_h());
  double above = 0.0;
  for (const double to_K : band_to_K_) {
    const double set = 1.0 / (1.0 + std::exp((to_K - half_K) / tail_K));
    left_per_rate_Pa_s_per_K_.push_back(left * (set - above));
    above = set;
  }
}

std::vector<PlannedStage> FastestStages::stages_of(const Course& course) const {
  using Kind = PlannedStage::Kind;
  const auto slowest = std::min_element(course.rate_K_per_s.begin(), course.rate_K_per_s.end());
  const auto setting = static_cast<std::size_t>(slowest - course.rate_K_per_s.begin());
  std::vector<PlannedStage> stages;
  for (std::size_t i = 0; i < course.size(); ++i) {
    const bool last = i + 1 == course.size();
    const Kind kind = i <= setting ? Kind::setting : last ? Kind::run_out : Kind::easing;
    stages.push_back(
        {kind, Temperature::from_K(course.to_K[i]), Rate::from_K_per_s(course.rate_K_per_s[i])});
  }
  return stages;
}

std::vector<Band> FastestStages::bands() const {
  std::vector<Band> bands;
  double from_K = cool_down_->hold().in_K();
  for (std::size_t i = 0; i < band_to_K_.size(); ++i) {
    const bool last = i + 1 == band_to_K_.size();
    bands.push_back({from_K - band_to_K_[i],
                     left_per_rate_Pa_s_per_K_[i],
                     std::min(fastest_of_kiln_K_per_s(from_K, band_to_K_[i], last),
                              tension_scale_ * fastest_by_estimate_K_per_s(from_K))});
    from_K = band_to_K_[i];
  }
  return bands;
}

/// Runs the best many-banded cool-down of the first guess and makes one band after the other
/// faster.
void FastestStages::measure_bands() {
  const std::size_t n = band_to_K_.size();
  const auto best_course = [&] {
    Course course{band_to_K_, {}};
    for (const BandGroup& group : quickest_groups(bands(), static_cast<int>(n), allowed_Pa_)) {
      course.rate_K_per_s.push_back(group.rate_K_per_s);
    }
    return course;
  };
  const Course course = best_course();
  governing_ = run(course).governing;
  const CoolDown::Outcome base = quick_run(course);
  std::vector<double> slope(n);
  double accounted = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    Course changed = course;
    changed.rate_K_per_s[i] *= faster;
    slope[i] = (quick_run(changed).permanent_Pa - base.permanent_Pa) /
               ((faster - 1.0) * course.rate_K_per_s[i]);
    accounted += slope[i] * course.rate_K_per_s[i];
  }
  // What is left is homogeneous in the rates but for the shift of where it sets: scaled to the
  // whole.
  const double scale = accounted > 0.0 ? base.permanent_Pa / accounted : 1.0;
  for (std::size_t i = 0; i < n; ++i) left_per_rate_Pa_s_per_K_[i] = scale * slope[i];
  const double run_out_Pa = base.tension_Pa[n - 1];
  if (run_out_Pa > 0.0) {
    const double estimated_K_per_s = fastest_by_estimate_K_per_s(from_K(course, n - 1));
    tension_scale_ = std::clamp(
        course.rate_K_per_s[n - 1] / estimated_K_per_s * tension_Pa_ / run_out_Pa, 0.5, 2.0);
  }
  least_time_s_ = quick_run(best_course()).time_s;
}

/// Rates at which the course, its ends kept, is quickest: with a price on what is left, from its
/// measured slopes, as in quickest_groups. Gives the outcome of the course as it leaves it.
CoolDown::Outcome FastestStages::correct_rates(Course& course) const {
  const std::size_t n = course.size();
  CoolDown::Outcome outcome = run(course);
  for (int correction = 0; correction < most_corrections; ++correction) {
    std::vector<Band> bands(n);
    double others = outcome.permanent_Pa;  // what the linear model does not account for
    for (std::size_t i = 0; i < n; ++i) {
      Course changed = course;
      changed.rate_K_per_s[i] *= faster;
      const double slope = (run(changed).permanent_Pa - outcome.permanent_Pa) /
                           ((faster - 1.0) * course.rate_K_per_s[i]);
      const double by_tension =
          course.rate_K_per_s[i] * tension_Pa_ / std::max(outcome.tension_Pa[i], 1.0);
      bands[i] = {
          from_K(course, i) - course.to_K[i],
          slope,
          std::min({by_tension,
                    most_change * course.rate_K_per_s[i],
                    fastest_of_kiln_K_per_s(from_K(course, i), course.to_K[i], i + 1 == n)})};
      others -= std::max(slope, 0.0) * course.rate_K_per_s[i];
    }
    const double allowed = std::max(allowed_Pa_ - others, 0.05 * allowed_Pa_);
    const std::vector<BandGroup> groups = quickest_groups(bands, static_cast<int>(n), allowed);
    double largest_change = 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      const double rate = std::clamp(groups[i].rate_K_per_s,
                                     course.rate_K_per_s[i] / most_change,
                                     course.rate_K_per_s[i] * most_change);
      largest_change = std::max(largest_change, std::abs(rate / course.rate_K_per_s[i] - 1.0));
      course.rate_K_per_s[i] = rate;
    }
    outcome = run(course);
    const bool on_aim = std::abs(outcome.permanent_Pa / allowed_Pa_ - 1.0) < aim_band;
    if (on_aim && largest_change < 0.03) break;
  }
  return outcome;
}

/// Time of a course whose slowest stage is made to leave what is allowed and whose last stage to
/// pull the limit, or nearly so: what is still off counts as the time it is worth. Changes those
/// two rates of the course.
double FastestStages::balanced_time_s(Course& course) const {
  const std::size_t last = course.size() - 1;
  const auto slow = static_cast<std::size_t>(
      std::min_element(course.rate_K_per_s.begin(), course.rate_K_per_s.end()) -
      course.rate_K_per_s.begin());
  const auto stage_s = [&](std::size_t i) {
    return (from_K(course, i) - course.to_K[i]) / course.rate_K_per_s[i];
  };
  double time_s = 0.0;
  for (int i = 0; i < most_balancings; ++i) {
    const CoolDown::Outcome outcome = quick_run(course);
    const double left = outcome.permanent_Pa / allowed_Pa_;
    const double pulled = outcome.tension_Pa[last] / tension_Pa_;
    time_s = outcome.time_s + stage_s(slow) * (left - 1.0);
    double over = 0.0;
    for (std::size_t j = 0; j < last; ++j) {
      over = std::max(over, outcome.tension_Pa[j] / tension_Pa_ - 1.0);
    }
    time_s += over * outcome.time_s;
    const double fastest_last =
        fastest_of_kiln_K_per_s(from_K(course, last), course.to_K[last], true);
    const double last_rate = std::min(course.rate_K_per_s[last] / pulled, fastest_last);
    if (slow != last) {
      time_s += stage_s(last) * (course.rate_K_per_s[last] / last_rate - 1.0);
      course.rate_K_per_s[last] = last_rate;
    }
    course.rate_K_per_s[slow] /= std::clamp(left, 1.0 / most_change, most_change);
    if (std::abs(left - 1.0) < balanced && std::abs(pulled - 1.0) < balanced) break;
  }
  return time_s;
}

/// Searches ends and rates of all stages together, but for the two rates that the limits give.
void FastestStages::search(Course& course) const {
  const std::size_t n = course.size();
  balanced_time_s(course);
  const auto slow = static_cast<std::size_t>(
      std::min_element(course.rate_K_per_s.begin(), course.rate_K_per_s.end()) -
      course.rate_K_per_s.begin());
  std::vector<double> start, steps;
  for (std::size_t i = 0; i + 1 < n; ++i) {
    start.push_back(course.to_K[i] / end_step_K);
    steps.push_back(1.0);
    if (i == slow) continue;
    start.push_back(std::log(course.rate_K_per_s[i]) / rate_step);
    steps.push_back(1.0);
  }
  Course latest = course;  // its two balanced rates are the next one's first guess
  const auto unpack = [&](std::span<const double> x) {
    Course tried = latest;
    std::size_t at = 0;
    double above_K = cool_down_->hold().in_K();
    for (std::size_t i = 0; i + 1 < n; ++i) {
      const double lowest_K =
          course.to_K.back() + narrowest_stage_K * static_cast<double>(n - 1 - i);
      tried.to_K[i] = std::clamp(
          x[at++] * end_step_K, lowest_K, std::max(above_K - narrowest_stage_K, lowest_K));
      if (i != slow) {
        tried.rate_K_per_s[i] = std::clamp(std::exp(x[at++] * rate_step),
                                           latest.rate_K_per_s[slow],
                                           fastest_of_kiln_K_per_s(above_K, tried.to_K[i], false));
      }
      above_K = tried.to_K[i];
    }
    return tried;
  };
  const std::vector<double> best = simplex_minimum(
      [&](std::span<const double> x) {
        Course tried = unpack(x);
        const double time_s = balanced_time_s(tried);
        latest.rate_K_per_s[slow] = tried.rate_K_per_s[slow];
        latest.rate_K_per_s[n - 1] = tried.rate_K_per_s[n - 1];
        return time_s;
      },
      start,
      steps,
      {.most_evaluations = 40 * static_cast<int>(n), .tolerance = search_tolerance});
  course = unpack(best);
}

/// Where searches may begin: the best cut by the measured bands, the same of one stage fewer with a
/// quick first stage above it down to just above the strain point, and what was found with one
/// stage fewer, its longest stage halved.
std::vector<FastestStages::Course> FastestStages::starts(int stages,
                                                         const Course* one_fewer) const {
  const std::vector<Band> all = bands();
  const double hold_K = cool_down_->hold().in_K();
  const auto cut = [&](int groups) {
    Course course;
    for (const BandGroup& group : quickest_groups(all, groups, allowed_Pa_)) {
      course.to_K.push_back(band_to_K_[group.end - 1]);
      course.rate_K_per_s.push_back(group.rate_K_per_s);
    }
    return course;
  };
  std::vector<Course> found{cut(stages)};
  if (stages < 3) return found;

  Course quick_first = cut(stages - 1);
  const double first_to_K = casting_->glass.strain_point.value.in_K() + above_strain_K;
  if (quick_first.to_K.front() < first_to_K - narrowest_stage_K &&
      first_to_K < hold_K - narrowest_stage_K) {
    const double rate = std::min(quick_first.rate_K_per_s.front() * quick_first_rate,
                                 fastest_of_kiln_K_per_s(hold_K, first_to_K, false));
    quick_first.to_K.insert(quick_first.to_K.begin(), first_to_K);
    quick_first.rate_K_per_s.insert(quick_first.rate_K_per_s.begin(), rate);
    found.push_back(quick_first);
  }
  if (one_fewer) {
    Course halved = *one_fewer;
    std::size_t longest = 0;
    const auto time_s = [&](std::size_t i) {
      return (from_K(halved, i) - halved.to_K[i]) / halved.rate_K_per_s[i];
    };
    for (std::size_t i = 1; i < halved.size(); ++i) {
      if (time_s(i) > time_s(longest)) longest = i;
    }
    const double middle_K = 0.5 * (from_K(halved, longest) + halved.to_K[longest]);
    const auto at = static_cast<std::ptrdiff_t>(longest);
    halved.to_K.insert(halved.to_K.begin() + at, middle_K);
    halved.rate_K_per_s.insert(halved.rate_K_per_s.begin() + at, halved.rate_K_per_s[longest]);
    found.push_back(halved);
  }
  return found;
}

std::vector<FastestStages::Found> FastestStages::up_to(int most_stages) const {
  std::vector<Found> all;
  Course previous;
  const int most = std::min(most_stages, static_cast<int>(band_to_K_.size()));
  for (int stages = 1; stages <= most; ++stages) {
    const bool first = all.empty();
    Course course;
    double least_s = std::numeric_limits<double>::infinity();
    for (Course start : starts(stages, first ? nullptr : &previous)) {
      const double time_s = balanced_time_s(start);
      if (time_s < least_s) course = start;
      least_s = std::min(least_s, time_s);
    }
    if (course.size() > 1) search(course);
    const CoolDown::Outcome outcome = correct_rates(course);
    const bool keeps = outcome.permanent_Pa <= (1.0 + aim_band) * allowed_Pa_;
    if (first || (keeps && outcome.time_s < all.back().outcome.time_s)) {
      all.push_back({stages_of(course), outcome});
      previous = course;
    } else {
      all.push_back(all.back());  // one stage more gains nothing
    }
  }
  return all;
}

}  // namespace thickset

#include "planning/stage_search.h"

#include <algorithm>
#include <cmath>

#include "numerics/constrained_search.h"

namespace thickset {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr double of_natural_rate = 0.95;  // of the kiln's own fall that a stage may ask
constexpr double narrowest_stage_K = 5.0;
constexpr double rate_unit = 0.4;  // of the logarithm of a rate: a large change
constexpr double end_unit_K = 12.0;
constexpr double rest_unit = 0.4;  // of the logarithm of a rest
constexpr double least_rest_s = 60.0;
constexpr double slowest_rate_K_per_s = 0.02 / 3600.0;  // slower is no plan: 1000 days
constexpr double least_share = 1e-3;    // of a limit: below it a constraint's value is of no use
constexpr double kept_closely = 0.002;  // of a limit
constexpr double nearly_governs = 0.9;  // of what the governing case leaves
constexpr int most_searches = 3;        // of one start, each from where the last one ended

/// A course as a point of the search: the ends that are free and the logarithms of the rates that
/// are and of the rests.
class Unknowns {
 public:
  Unknowns(const Course& start, const Kept& kept) : start_{start} {
    for (std::size_t i = 0; i < start.size(); ++i) {
      if (!kept.rate[i]) unknowns_.push_back({Kind::rate, i});
      if (i + 1 < start.size() && !kept.to[i]) unknowns_.push_back({Kind::end, i});
      if (start.resting_s(i) > 0.0) unknowns_.push_back({Kind::rest, i});
    }
  }

  Index size() const { return static_cast<Index>(unknowns_.size()); }

  VectorXd start() const {
    VectorXd x(size());
    for (Index i = 0; i < size(); ++i) {
      const auto [kind, stage] = unknowns_[static_cast<std::size_t>(i)];
      switch (kind) {
        case Kind::rate: x(i) = std::log(start_.rate_K_per_s[stage]) / rate_unit; break;
        case Kind::end: x(i) = start_.to_K[stage] / end_unit_K; break;
        case Kind::rest: x(i) = std::log(start_.rest_s[stage]) / rest_unit; break;
      }
    }
    return x;
  }

  Course course(const VectorXd& x) const {
    Course course = start_;
    for (Index i = 0; i < size(); ++i) {
      const auto [kind, stage] = unknowns_[static_cast<std::size_t>(i)];
      switch (kind) {
        case Kind::rate:
          course.rate_K_per_s[stage] = std::max(std::exp(x(i) * rate_unit), slowest_rate_K_per_s);
          break;
        case Kind::end: course.to_K[stage] = x(i) * end_unit_K; break;
        case Kind::rest:
          course.rest_s[stage] = std::max(std::exp(x(i) * rest_unit), least_rest_s);
          break;
      }
    }
    return course;
  }

  /// First guess of the second derivatives of the Lagrangian: of rates and rests that of the
  /// stage's time along the logarithm, and as much again from what is left; of ends what moving a
  /// boundary by its unit costs.
  MatrixXd curvature(double unit_s) const {
    constexpr double least = 0.01;
    constexpr double of_ends = 0.04;
    MatrixXd curvature = MatrixXd::Zero(size(), size());
    const auto of_time = [&](double unit, double time_s) {
      return std::max(2.0 * unit * unit * time_s / unit_s, least);
    };
    for (Index i = 0; i < size(); ++i) {
      const auto [kind, stage] = unknowns_[static_cast<std::size_t>(i)];
      switch (kind) {
        case Kind::rate: curvature(i, i) = of_time(rate_unit, start_.asked_s(stage)); break;
        case Kind::end: curvature(i, i) = of_ends; break;
        case Kind::rest: curvature(i, i) = of_time(rest_unit, start_.rest_s[stage]); break;
      }
    }
    return curvature;
  }

 private:
  enum class Kind { rate, end, rest };
  struct Unknown {
    Kind kind;
    std::size_t stage;
  };
  Course start_;
  std::vector<Unknown> unknowns_;
};

}  // namespace

StageBounds::StageBounds(const Kiln& kiln, const Firing& firing, Temperature end, bool never_late)
    : natural_{kiln.natural_cooling.in_room(firing.room)},
      end_K_{end.in_K()},
      never_late_{never_late} {}

double StageBounds::fastest_K_per_s(double from_K, double to_K, bool last) const {
  const double at_K = last ? from_K : to_K;
  return of_natural_rate * natural_.rate_at(Temperature::from_K(at_K)).in_K_per_s();
}

double StageBounds::last_target_K(double from_K, double rate_K_per_s) const {
  if (!never_late_) return end_K_;
  const Temperature lags = natural_.slower_than(Rate::from_K_per_s(rate_K_per_s / of_natural_rate),
                                                Temperature::from_K(from_K));
  return std::clamp(lags.in_K(), end_K_, from_K);
}

StageSearch::StageSearch(const CoolDown& cool_down, const StageBounds& bounds, double aim)
    : cool_down_{&cool_down}, bounds_{bounds}, aim_{aim} {}

FoundStages StageSearch::near(const Course& start, const Kept& kept) const {
  FoundStages found{start, cool_down_->run(steps_of(start))};
  std::vector<CoolDown::Case> cases;
  for (int i = 0; i < most_searches; ++i) {
    const double most = found.outcome.left[found.outcome.governing()];
    for (std::size_t j = 0; j < cool_down_->cases().size(); ++j) {
      if (found.outcome.left[j] < nearly_governs * most) continue;
      const CoolDown::Case& one = cool_down_->cases()[j];
      if (std::find(cases.begin(), cases.end(), one) == cases.end()) cases.push_back(one);
    }
    found = search(found, kept, cases);
    if (found.outcome.worst() <= aim_ * (1.0 + kept_closely)) break;
  }
  return found;
}

/// The course nearest to this one whose stages have some width, that is slower nowhere than it may
/// be and whose last target can be had.
Course StageSearch::made(Course course) const {
  constexpr double least_K = 0.2 * narrowest_stage_K;
  const std::size_t last = course.size() - 1;
  if (const std::optional<double> slowest = bounds_.slowest_K_per_s()) {
    for (double& rate_K_per_s : course.rate_K_per_s)
      rate_K_per_s = std::max(rate_K_per_s, *slowest);
  }
  for (std::size_t i = 0; i < last; ++i) {
    course.to_K[i] = std::min(course.to_K[i], course.from_K(i) - least_K);
  }
  for (std::size_t i = last; i-- > 0;) {
    const double below_K = i + 1 == last ? bounds_.end_K() : course.to_K[i + 1];
    course.to_K[i] = std::max(course.to_K[i], below_K + least_K);
  }
  course.to_K[last] = bounds_.last_target_K(course.from_K(last), course.rate_K_per_s[last]);
  return course;
}

FoundStages StageSearch::search(const FoundStages& start,
                                const Kept& kept,
                                std::span<const CoolDown::Case> cases) const {
  const Unknowns unknowns{start.course, kept};
  if (unknowns.size() == 0) return start;

  const std::size_t n = start.course.size();
  const double unit_s = start.outcome.time_s;
  const auto tension_of = [n](const CoolDown::Outcome& outcome) {
    std::vector<double> tension = outcome.tension;
    tension[n - 1] = std::max(tension[n - 1], tension[n]);
    return tension;
  };
  // What the cases left out pull more than those simulated, taken as a constant factor.
  const std::vector<double> of_all = tension_of(start.outcome);
  std::vector<double> more = tension_of(cool_down_->run(steps_of(start.course), cases));
  for (std::size_t i = 0; i <= n; ++i) {
    more[i] = more[i] > least_share ? of_all[i] / more[i] : 1.0;
  }
  const std::optional<double> slowest = bounds_.slowest_K_per_s();
  const auto over = [&](double share) { return std::log(std::max(share, least_share) / aim_); };
  const auto trial_of =
      [&](const Course& asked, const Course& course, const CoolDown::Outcome& outcome) {
        const std::vector<double> tension = tension_of(outcome);
        std::vector<double> overs;
        for (const double left : outcome.left) overs.push_back(over(left));
        for (std::size_t i = 0; i < n; ++i) {
          const bool last = i + 1 == n;
          const double fastest = bounds_.fastest_K_per_s(course.from_K(i), course.to_K[i], last);
          overs.push_back(over(more[i] * tension[i]));
          overs.push_back(std::log(course.rate_K_per_s[i] / fastest));
          if (slowest) overs.push_back(std::log(*slowest / asked.rate_K_per_s[i]));
          if (!last) overs.push_back((narrowest_stage_K - asked.width_K(i)) / end_unit_K);
        }
        return Trial{outcome.time_s / unit_s,
                     VectorXd::Map(overs.data(), static_cast<Index>(overs.size()))};
      };
  CoolDown::Trunk trunk;
  const Tries tried{[&](const VectorXd& x) {
                      const Course asked = unknowns.course(x);
                      const Course course = made(asked);
                      trunk = cool_down_->trunk(steps_of(course), cases);
                      return trial_of(asked, course, trunk.outcome());
                    },
                    [&](const VectorXd& x) {
                      const Course asked = unknowns.course(x);
                      const Course course = made(asked);
                      return trial_of(asked, course, cool_down_->branch(trunk, steps_of(course)));
                    }};
  const ConstrainedMinimum best =
      constrained_minimum(tried, unknowns.start(), unknowns.curvature(unit_s));
  const Course course = made(unknowns.course(best.x));
  return {course, cool_down_->run(steps_of(course))};
}

}  // namespace thickset

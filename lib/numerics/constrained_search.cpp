#include "numerics/constrained_search.h"

#include <algorithm>
#include <cassert>

#include "numerics/quadratic_program.h"

namespace thickset {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

// Where constraints cannot be kept a price grows without end and drowns the rest in rounding.
constexpr double most_penalty = 1e4;

struct Slopes {
  VectorXd cost;  ///< n
  MatrixXd over;  ///< m x n
  VectorXd of_lagrangian(const VectorXd& multipliers) const {
    return cost + over.transpose() * multipliers;
  }
};

double most_over(const VectorXd& over) {
  return std::max(0.0, over.maxCoeff());
}

struct Step {
  VectorXd change;
  VectorXd multipliers;
  double promised;  ///< fall of cost and penalty together, by the quadratic model
};

/// Best change by the quadratic model of a place where the constraints are at `over`: one more
/// variable, the most that a constraint is broken by, carries the penalty.
Step best_step(const VectorXd& over,
               const Slopes& slopes,
               const MatrixXd& curvature,
               double reach,
               double penalty) {
  const Eigen::Index n = slopes.cost.size();
  const Eigen::Index m = over.size();
  constexpr double of_slack = 1e-6;  // its curvature, for a program that is strictly convex
  QuadraticProgram program{.H = MatrixXd::Zero(n + 1, n + 1),
                           .g = VectorXd(n + 1),
                           .A = MatrixXd::Zero(m + 2 * n + 1, n + 1),
                           .b = VectorXd(m + 2 * n + 1)};
  program.H.topLeftCorner(n, n) = curvature;
  program.H(n, n) = of_slack;
  program.g << slopes.cost, penalty;
  program.A.topLeftCorner(m, n) = slopes.over;
  program.A.topRightCorner(m, 1).setConstant(-1.0);
  program.A.block(m, 0, n, n).setIdentity();
  program.A.block(m + n, 0, n, n) = -MatrixXd::Identity(n, n);
  program.A(m + 2 * n, n) = -1.0;
  program.b << -over, VectorXd::Constant(2 * n, reach), 0.0;
  const QuadraticMinimum best = minimum(program);
  const VectorXd change = best.x.head(n);
  const double left_over = most_over(over + slopes.over * change);
  const double gain = -(slopes.cost.dot(change) + 0.5 * change.dot(curvature * change));
  return {change, best.multipliers.head(m), gain + penalty * (most_over(over) - left_over)};
}

/// [NW06] procedure 18.2.
void update(MatrixXd& curvature, const VectorXd& change, const VectorXd& slope_change) {
  const VectorXd bent = curvature * change;
  const double by_model = change.dot(bent);
  const double seen = change.dot(slope_change);
  if (!(by_model > 0.0)) return;
  const double share = seen >= 0.2 * by_model ? 1.0 : 0.8 * by_model / (by_model - seen);
  const VectorXd taken = share * slope_change + (1.0 - share) * bent;
  curvature += taken * taken.transpose() / change.dot(taken) - bent * bent.transpose() / by_model;
}

}  // namespace

ConstrainedMinimum constrained_minimum(const Tries& tried,
                                       const VectorXd& start,
                                       MatrixXd curvature,
                                       const ConstrainedSearch& settings) {
  const Eigen::Index n = start.size();
  assert(n > 0 && curvature.rows() == n && curvature.cols() == n);
  ConstrainedMinimum found{start, tried.at(start), 1};
  const auto slopes_at = [&](const VectorXd& x, const Trial& trial) {
    Slopes slopes{VectorXd(n), MatrixXd(trial.over.size(), n)};
    for (Eigen::Index i = 0; i < n; ++i) {
      VectorXd beside = x;
      beside(i) += settings.difference;
      const Trial there = tried.beside(beside);
      slopes.cost(i) = (there.cost - trial.cost) / settings.difference;
      slopes.over.col(i) = (there.over - trial.over) / settings.difference;
    }
    found.trials += static_cast<int>(n);
    return slopes;
  };
  double penalty = settings.penalty;
  const auto merit = [&](const Trial& trial) {
    return trial.cost + penalty * most_over(trial.over);
  };

  Slopes slopes = slopes_at(found.x, found.trial);
  double reach = settings.first_reach;
  for (int i = 0; i < settings.most_iterations && reach >= settings.least_reach; ++i) {
    Step step = best_step(found.trial.over, slopes, curvature, reach, penalty);
    if (step.multipliers.sum() > 0.9 * penalty && penalty < most_penalty) {
      penalty *= 3.0;
      step = best_step(found.trial.over, slopes, curvature, reach, penalty);
    }
    if (!(step.promised >= settings.tolerance)) break;  // nor where the program has no answer
    const auto kept_of = [&](const Trial& trial) {
      return (merit(found.trial) - merit(trial)) / step.promised;
    };
    VectorXd change = step.change;
    Trial trial = tried.at(found.x + change);
    ++found.trials;
    if (kept_of(trial) < 0.5 && most_over(trial.over) > 0.0) {
      // Constraints that curve away: the step once more with what they really came to.
      const VectorXd bent = trial.over - slopes.over * change;
      const VectorXd corrected = best_step(bent, slopes, curvature, reach, penalty).change;
      Trial again = tried.at(found.x + corrected);
      ++found.trials;
      if (merit(again) < merit(trial)) {
        change = corrected;
        trial = std::move(again);
      }
    }
    const double kept = kept_of(trial);
    const double length = change.cwiseAbs().maxCoeff();
    if (kept < 0.25) reach = 0.4 * std::min(reach, length);
    if (kept > 0.75 && length > 0.9 * reach) reach *= 2.0;
    if (!(kept > 0.05)) continue;
    Slopes slopes_there = slopes_at(found.x + change, trial);
    update(curvature,
           change,
           slopes_there.of_lagrangian(step.multipliers) - slopes.of_lagrangian(step.multipliers));
    slopes = std::move(slopes_there);
    found.x += change;
    found.trial = std::move(trial);
  }
  return found;
}

}  // namespace thickset

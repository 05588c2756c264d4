#pragma once

#include <Eigen/Core>

namespace thickset::relaxation {

/// How much reduced time passes at a number of points in a step, and how its pace changes.
struct ReducedTime {
  Eigen::ArrayXd passed_s;
  Eigen::ArrayXd growth;  ///< of the pace's logarithm over the step, which goes straight
  double shortest_s = 0.0, longest_s = 0.0;  ///< extremes of passed_s

  explicit ReducedTime(Eigen::Index points)
      : passed_s{Eigen::ArrayXd::Zero(points)}, growth{Eigen::ArrayXd::Zero(points)} {}
};

/// What one exponential term makes of a step, z = reduced time over the term's time, of any size
/// >= 0: what is left of before, exp(-z), and of what comes in evenly over the step, its mean over
/// the clock's time; (1 - exp(-z))/z at an even pace, corrected to first order in the pace's growth
/// (growth held within +-1). No loss where z is tiny. Source: notes/relaxation.md#structure.
///
/// Terms that do not move in the step, or are gone after it, cost no exponential.
class Decay {
 public:
  explicit Decay(Eigen::Index points) : z_{points}, left_{points}, mean_{points} {}

  void over(const ReducedTime& reduced, double time_s);

  const Eigen::ArrayXd& left() const { return left_; }
  const Eigen::ArrayXd& mean() const { return mean_; }

 private:
  Eigen::ArrayXd z_, left_, mean_;
};

}  // namespace thickset::relaxation

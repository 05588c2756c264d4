#pragma once

#include <Eigen/Core>

#include "glass/spectrum.h"

namespace thickset::relaxation {

/// How much reduced time passes at a number of points in a step, and how its pace changes.
struct ReducedTime {
  Eigen::ArrayXd passed_s;
  Eigen::ArrayXd growth;  ///< of the pace's logarithm over the step, which goes straight
  double shortest_s = 0.0, longest_s = 0.0;  ///< extremes of passed_s

  explicit ReducedTime(Eigen::Index points)
      : passed_s{Eigen::ArrayXd::Zero(points)}, growth{Eigen::ArrayXd::Zero(points)} {}
};

/// What the exponential terms of a spectrum make of a step, z = reduced time over the term's time,
/// of any size >= 0: what is left of before, exp(-z), and of what comes in evenly over the step,
/// its mean over the clock's time; (1 - exp(-z))/z at an even pace, corrected to first order in the
/// pace's growth (growth held within +-1). No loss where z is tiny. Source:
/// notes/relaxation.md#structure.
///
/// Terms that hardly move in the step, or are gone after it, cost no exponential.
class Decays {
 public:
  /// time_s: from the quickest to the slowest.
  Decays(Eigen::Index points, const RelaxationSpectrum::Terms& time_s);

  void over(const ReducedTime& reduced);

  /// No term moves in a step that takes no more reduced time than this.
  double still_s() const;
  /// Whether that was so: left() and mean() of all terms are 1, and are not worked out.
  bool still() const { return still_; }

  /// Of one term, at each point; the next term's follow.
  const double* left(int term = 0) const { return left_.col(term).data(); }
  const double* mean(int term = 0) const { return mean_.col(term).data(); }

 private:
  RelaxationSpectrum::Terms per_s_;
  bool still_ = true;
  Eigen::ArrayXXd left_, mean_;  ///< points x terms
};

}  // namespace thickset::relaxation

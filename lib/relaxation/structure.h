#pragma once

#include <Eigen/Core>

#include "glass/relaxation_law.h"

namespace thickset::relaxation {

/// Structure that lags behind temperature at every node of a body: fictive temperature as a sum of
/// six terms, each relaxing towards the temperature on the common reduced time (Tool, Narayanaswamy
/// and Moynihan). Source: [NARA71]; notes/relaxation.md#structure.
class Structure {
 public:
  /// In equilibrium at T_K at first.
  Structure(const RelaxationLaw& law, const Eigen::ArrayXd& T_K);

  /// One step of dt_s in which every node goes from its last temperature straight to T_K.
  ///
  /// Exact in each term for the reduced time of the step; that is averaged as if its logarithm went
  /// straight, with the fictive temperature at the step's end found by iteration. Error: second
  /// order in the temperature step. Never unstable, whatever dt_s over the relaxation times.
  void step(const Eigen::ArrayXd& T_K, double dt_s);

  const Eigen::ArrayXd& T_K() const { return T_K_; }
  const Eigen::ArrayXd& fictive_K() const { return fictive_K_; }
  /// Seconds of the spectrum that pass in dt_s at the quickest node at most, if it were at
  /// `hottest_K` with its fictive temperature of now.
  double quickest_s(double hottest_K, double dt_s) const;

  /// Of the last step, at each node: seconds of the spectrum that passed, and the change of T_f.
  const Eigen::ArrayXd& reduced_s() const { return reduced_s_; }
  const Eigen::ArrayXd& fictive_change_K() const { return fictive_change_K_; }
  /// Largest change that the last iteration made to a fictive temperature: the step's own error.
  double iteration_change_K() const { return iteration_change_K_; }

 private:
  void rate(const Eigen::ArrayXd& T_K,
            const Eigen::ArrayXd& fictive_K,
            Eigen::ArrayXd& log_rate) const;

  RelaxationLaw law_;
  Eigen::ArrayXd T_K_, fictive_K_;
  Eigen::ArrayXXd term_K_;  ///< nodes x terms
  Eigen::ArrayXXd next_term_K_;
  Eigen::ArrayXd log_rate_, next_log_rate_, next_fictive_K_;
  Eigen::ArrayXd reduced_s_, fictive_change_K_;
  Eigen::ArrayXd z_, decay_, mean_decay_, T_change_K_;
  double iteration_change_K_ = 0.0;
};

/// exp(-z) and its mean over 0..z, (1 - exp(-z))/z, for z >= 0 of any size; no loss where z is
/// tiny.
void decay_over_step(const Eigen::ArrayXd& z, Eigen::ArrayXd& decay, Eigen::ArrayXd& mean_decay);

}  // namespace thickset::relaxation

#pragma once

#include <algorithm>

#include <Eigen/Core>

#include "glass/relaxation_law.h"
#include "relaxation/decay.h"

namespace thickset::relaxation {

/// The pace of the reduced time: seconds of the spectrum per second, as RelaxationLaw has it. Its
/// logarithm is held within what a double can hold the exponential of.
struct Pace {
  explicit Pace(const RelaxationLaw& law);

  double logarithm(double T_K, double fictive_K) const {
    const double activated = (of_T_K * fictive_K + of_fictive_K * T_K) / (T_K * fictive_K);
    return std::max(-longest_logarithm, std::min(longest_logarithm, at_reference - activated));
  }

  static constexpr double longest_logarithm = 700.0;
  double at_reference, of_T_K, of_fictive_K;
};

/// Structure that lags behind temperature at every node of a body: fictive temperature as a sum of
/// six terms, each relaxing towards the temperature on the common reduced time (Tool, Narayanaswamy
/// and Moynihan). Source: [NARA71]; notes/relaxation.md#structure.
class Structure {
 public:
  /// In equilibrium at T_K at first, or with every term at fictive_K.
  Structure(const RelaxationLaw& law, const Eigen::ArrayXd& T_K) : Structure{law, T_K, T_K} {}
  Structure(const RelaxationLaw& law, const Eigen::ArrayXd& T_K, const Eigen::ArrayXd& fictive_K);

  /// Tries a step of dt_s in which every node goes from its last temperature straight to T_K.
  ///
  /// Exact in each term for the reduced time of the step; that is averaged as if its logarithm went
  /// straight between the step's ends. The fictive temperature at its end is guessed from its last
  /// course and, where the guess was poor, worked out once more.
  /// Never unstable, whatever dt_s over the relaxation times.
  /// Returns how far the guess was off, K: the step's error is a small share of it, and falls with
  /// its square as the step does. The step counts after accept(); attempts may be repeated.
  double attempt(const Eigen::ArrayXd& T_K, double dt_s);
  void accept();
  void step(const Eigen::ArrayXd& T_K, double dt_s) {
    attempt(T_K, dt_s);
    accept();
  }

  const Eigen::ArrayXd& T_K() const { return T_K_; }
  const Eigen::ArrayXd& fictive_K() const { return fictive_K_; }
  /// Seconds of the spectrum that would pass in dt_s at the quickest node at most, if it were at
  /// `hottest_K` with its fictive temperature of now; and at the slowest node at least.
  double quickest_s(double hottest_K, double dt_s) const;
  double slowest_s(double coldest_K, double dt_s) const;

  /// Of the last step, at each node: reduced time in seconds of the spectrum, and the change of T
  /// and of T_f.
  const ReducedTime& reduced() const { return reduced_; }
  const Eigen::ArrayXd& change_K() const { return change_K_; }
  const Eigen::ArrayXd& fictive_change_K() const { return fictive_change_K_; }

 private:
  bool stays(const Eigen::ArrayXd& T_K, double dt_s) const;
  void stay();
  void guess(const Eigen::ArrayXd& T_K, double dt_s);
  void relax(const Eigen::ArrayXd& T_K, double dt_s);

  Pace pace_;
  RelaxationSpectrum::Terms share_of_term_{};
  double slowest_term_s_;
  Eigen::ArrayXd T_K_, fictive_K_;
  Eigen::ArrayXXd term_K_;  ///< nodes x terms
  Eigen::ArrayXd log_rate_;
  Eigen::ArrayXd course_K_per_s_;  ///< of the fictive temperature in the last step
  // Of the attempt:
  Eigen::ArrayXXd next_term_K_;
  Eigen::ArrayXd next_T_K_, guess_K_, next_fictive_K_, next_log_rate_;
  ReducedTime reduced_;
  Eigen::ArrayXd change_K_, fictive_change_K_;
  double dt_s_ = 0.0;
  Decays decays_;
};

}  // namespace thickset::relaxation

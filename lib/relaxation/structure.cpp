#include "relaxation/structure.h"

#include <algorithm>
#include <cmath>

namespace thickset::relaxation {
namespace {

constexpr int iterations = 3;         // at most
constexpr double converged_K = 1e-5;  // a change below it ends the iteration
constexpr double tiny = 1e-2;         // below, the series of (1 - exp(-z))/z is used
constexpr double longest_z = 700.0;   // exp(-700) is the least a double holds without denormals

}  // namespace

void decay_over_step(const Eigen::ArrayXd& z, Eigen::ArrayXd& decay, Eigen::ArrayXd& mean_decay) {
  decay = (-z.min(longest_z)).exp();
  mean_decay = (z < tiny).select(1.0 - z * (0.5 - z * (1.0 / 6.0 - z * (1.0 / 24.0 - z / 120.0))),
                                 (1.0 - decay) / z);
}

Structure::Structure(const RelaxationLaw& law, const Eigen::ArrayXd& T_K)
    : law_{law},
      T_K_{T_K},
      fictive_K_{T_K},
      term_K_{T_K.size(), RelaxationSpectrum::terms},
      next_term_K_{T_K.size(), RelaxationSpectrum::terms},
      log_rate_{T_K.size()},
      next_log_rate_{T_K.size()},
      next_fictive_K_{T_K.size()},
      reduced_s_{Eigen::ArrayXd::Zero(T_K.size())},
      fictive_change_K_{Eigen::ArrayXd::Zero(T_K.size())},
      z_{T_K.size()},
      decay_{T_K.size()},
      mean_decay_{T_K.size()},
      T_change_K_{T_K.size()} {
  for (int i = 0; i < RelaxationSpectrum::terms; ++i) term_K_.col(i) = T_K;
  rate(T_K_, fictive_K_, log_rate_);
}

void Structure::rate(const Eigen::ArrayXd& T_K,
                     const Eigen::ArrayXd& fictive_K,
                     Eigen::ArrayXd& log_rate) const {
  log_rate =
      law_.activation_K * (1.0 / law_.reference_K - law_.x / T_K - (1.0 - law_.x) / fictive_K) -
      std::log(law_.mean_shear_time_s);
}

double Structure::quickest_s(double hottest_K, double dt_s) const {
  const double log_rate =
      law_.activation_K * (1.0 / law_.reference_K - law_.x / hottest_K -
                           (1.0 - law_.x) / std::max(fictive_K_.maxCoeff(), hottest_K)) -
      std::log(law_.mean_shear_time_s);
  return dt_s * std::exp(std::min(log_rate, longest_z));
}

void Structure::step(const Eigen::ArrayXd& T_K, double dt_s) {
  T_change_K_ = T_K - T_K_;
  next_fictive_K_ = fictive_K_;
  for (int iteration = 0; iteration < iterations; ++iteration) {
    rate(T_K, next_fictive_K_, next_log_rate_);
    // Mean of exp(y) for y going straight from a to b: exp(b) (1 - exp(-(b - a)))/(b - a).
    z_ = (next_log_rate_ - log_rate_).abs();
    decay_over_step(z_, decay_, mean_decay_);
    reduced_s_ = dt_s * (next_log_rate_.max(log_rate_)).min(longest_z).exp() * mean_decay_;
    fictive_change_K_ = next_fictive_K_;
    next_fictive_K_.setZero();
    for (int i = 0; i < RelaxationSpectrum::terms; ++i) {
      const auto term = static_cast<std::size_t>(i);
      z_ = reduced_s_ / law_.spectrum.structure_s[term];
      decay_over_step(z_, decay_, mean_decay_);
      next_term_K_.col(i) = T_K - T_change_K_ * mean_decay_ + (term_K_.col(i) - T_K_) * decay_;
      next_fictive_K_ += law_.spectrum.structure[term] * next_term_K_.col(i);
    }
    next_fictive_K_ /= law_.spectrum.structure_sum();
    iteration_change_K_ = (next_fictive_K_ - fictive_change_K_).abs().maxCoeff();
    if (iteration_change_K_ < converged_K) break;
  }
  fictive_change_K_ = next_fictive_K_ - fictive_K_;
  fictive_K_ = next_fictive_K_;
  term_K_.swap(next_term_K_);
  T_K_ = T_K;
  rate(T_K_, fictive_K_, log_rate_);
}

}  // namespace thickset::relaxation

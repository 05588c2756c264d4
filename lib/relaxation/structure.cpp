#include "relaxation/structure.h"

#include <algorithm>
#include <cmath>

namespace thickset::relaxation {
namespace {

// A guess of the fictive temperature better than this is used as it is: its error changes the
// logarithm of the mean rate by half of activation (1 - x) / T_f^2, about 0.03 per kelvin, and like
// that of the step itself falls with the square of the step.
constexpr double good_guess_K = 1.0;
constexpr int most_passes = 3;
constexpr double liquid = 40.0;  // times the slowest term: only rounding is left of before
constexpr double highest_log_rate = 700.0;  // exp of it is the most a double holds
constexpr double flat = 0.05;  // growth below which the series of a mean rate is exact to 1e-11

/// Mean of exp(-y) for y going straight from 0 to x.
inline double mean_of_flat(double x) {
  return 1.0 - x * (1.0 / 2.0 - x * (1.0 / 6.0 - x * (1.0 / 24.0 - x * (1.0 / 120.0 - x / 720.0))));
}

/// One term at a step's end, and its share in the fictive temperature; the arrays do not overlap,
/// so that compilers can make vector code of it.
void follow(Eigen::Index n,
            double share,
            const double* __restrict left,
            const double* __restrict mean,
            const double* __restrict T_before_K,
            const double* __restrict T_K,
            const double* __restrict term_K,
            double* __restrict next_term_K,
            double* __restrict fictive_K) {
  for (Eigen::Index i = 0; i < n; ++i) {
    next_term_K[i] =
        T_K[i] - (T_K[i] - T_before_K[i]) * mean[i] + (term_K[i] - T_before_K[i]) * left[i];
    fictive_K[i] += share * next_term_K[i];
  }
}

}  // namespace

Structure::Structure(const RelaxationLaw& law, const Eigen::ArrayXd& T_K)
    : law_{law},
      T_K_{T_K},
      fictive_K_{T_K},
      term_K_{T_K.size(), RelaxationSpectrum::terms},
      log_rate_{T_K.size()},
      course_K_per_s_{Eigen::ArrayXd::Zero(T_K.size())},
      next_term_K_{T_K.size(), RelaxationSpectrum::terms},
      next_T_K_{T_K},
      guess_K_{T_K},
      next_fictive_K_{T_K},
      next_log_rate_{T_K.size()},
      reduced_{T_K.size()},
      fictive_change_K_{Eigen::ArrayXd::Zero(T_K.size())},
      decays_{T_K.size(), law.spectrum.structure_s} {
  const double sum = law.spectrum.structure_sum();
  for (std::size_t i = 0; i < share_of_term_.size(); ++i) {
    share_of_term_[i] = law.spectrum.structure[i] / sum;
  }
  for (int i = 0; i < RelaxationSpectrum::terms; ++i) term_K_.col(i) = T_K;
  rate(T_K_, fictive_K_, log_rate_);
}

void Structure::rate(const Eigen::ArrayXd& T_K,
                     const Eigen::ArrayXd& fictive_K,
                     Eigen::ArrayXd& log_rate) const {
  const double at_reference =
      law_.activation_K / law_.reference_K - std::log(law_.mean_shear_time_s);
  log_rate = (at_reference - law_.activation_K * (law_.x / T_K + (1.0 - law_.x) / fictive_K))
                 .min(highest_log_rate);
}

double Structure::log_rate_at(double T_K, double fictive_K) const {
  return std::min(
      law_.activation_K * (1.0 / law_.reference_K - law_.x / T_K - (1.0 - law_.x) / fictive_K) -
          std::log(law_.mean_shear_time_s),
      highest_log_rate);
}

double Structure::quickest_s(double hottest_K, double dt_s) const {
  return dt_s * std::exp(log_rate_at(hottest_K, std::max(fictive_K_.maxCoeff(), hottest_K)));
}

double Structure::slowest_s(double coldest_K, double dt_s) const {
  return dt_s * std::exp(log_rate_at(coldest_K, std::min(fictive_K_.minCoeff(), coldest_K)));
}

// Mean of exp(y) for y going straight from a to b: exp(max) (1 - exp(-|b - a|))/|b - a|.
void Structure::reduced_time(double dt_s) {
  Eigen::ArrayXd& passed_s = reduced_.passed_s;
  Eigen::ArrayXd& growth = reduced_.growth;
  growth = (next_log_rate_ - log_rate_).abs();
  passed_s = (1.0 - (-growth).exp()) / growth;
  for (Eigen::Index i = 0; i < growth.size(); ++i) {
    if (growth(i) < flat) passed_s(i) = mean_of_flat(growth(i));
  }
  passed_s *= dt_s * next_log_rate_.max(log_rate_).exp();
  growth = (next_log_rate_ - log_rate_).max(-1.0).min(1.0);
  reduced_.shortest_s = passed_s.minCoeff();
  reduced_.longest_s = passed_s.maxCoeff();
}

/// A step in which no term moves, at whatever temperature between its ends.
bool Structure::stays(const Eigen::ArrayXd& T_K, double dt_s) const {
  return quickest_s(std::max(T_K.maxCoeff(), T_K_.maxCoeff()), dt_s) < decays_.still_s();
}

void Structure::stay() {
  reduced_.passed_s.setZero();
  reduced_.growth.setZero();
  reduced_.shortest_s = reduced_.longest_s = 0.0;
  next_term_K_ = term_K_;
  next_fictive_K_ = fictive_K_;
}

/// Where the slowest term was gone in the last step, the structure will be in equilibrium again.
/// Else the guess goes on as in the last step, never beyond where the temperature itself goes.
void Structure::guess(const Eigen::ArrayXd& T_K, double dt_s) {
  if (reduced_.shortest_s > liquid * law_.spectrum.structure_s.back()) {
    guess_K_ = T_K;
  } else {
    guess_K_ = (fictive_K_ + dt_s * course_K_per_s_)
                   .max(fictive_K_.min(T_K).min(T_K_))
                   .min(fictive_K_.max(T_K).max(T_K_));
  }
}

/// The step with the fictive temperature at its end as guessed.
void Structure::relax(const Eigen::ArrayXd& T_K, double dt_s) {
  rate(T_K, guess_K_, next_log_rate_);
  reduced_time(dt_s);
  decays_.over(reduced_);
  if (decays_.still()) {
    stay();
    return;
  }
  next_fictive_K_.setZero();
  for (int i = 0; i < RelaxationSpectrum::terms; ++i) {
    follow(T_K.size(),
           share_of_term_[static_cast<std::size_t>(i)],
           decays_.left(i),
           decays_.mean(i),
           T_K_.data(),
           T_K.data(),
           term_K_.col(i).data(),
           next_term_K_.col(i).data(),
           next_fictive_K_.data());
  }
}

double Structure::attempt(const Eigen::ArrayXd& T_K, double dt_s) {
  dt_s_ = dt_s;
  next_T_K_ = T_K;
  if (stays(T_K, dt_s)) {
    stay();
    return 0.0;
  }
  guess(T_K, dt_s);
  double off_K = 0.0;
  for (int pass = 0; pass < most_passes; ++pass) {
    relax(T_K, dt_s);
    const double change_K = (next_fictive_K_ - guess_K_).abs().maxCoeff();
    if (pass == 0) off_K = change_K;
    if (change_K <= good_guess_K) break;
    guess_K_ = next_fictive_K_;
  }
  return off_K;
}

void Structure::accept() {
  fictive_change_K_ = next_fictive_K_ - fictive_K_;
  course_K_per_s_ = fictive_change_K_ / dt_s_;
  fictive_K_ = next_fictive_K_;
  term_K_.swap(next_term_K_);
  T_K_ = next_T_K_;
  rate(T_K_, fictive_K_, log_rate_);
}

}  // namespace thickset::relaxation

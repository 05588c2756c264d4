#include "relaxation/structure.h"

#include <algorithm>
#include <cmath>

#include "numerics/lanes.h"
#include "numerics/vector_exp.h"

namespace thickset::relaxation {
namespace {

using Eigen::Index;

// A guess of the fictive temperature better than this is used as it is: its error changes the
// logarithm of the mean rate by half of activation (1 - x) / T_f^2, about 0.03 per kelvin, and like
// that of the step itself falls with the square of the step.
constexpr double good_guess_K = 1.0;
constexpr int most_passes = 3;
constexpr double liquid = 40.0;          // times the slowest term: only rounding is left of before
constexpr double least_growth = 1e-300;  // stands for 0, so that nothing is divided by it
constexpr int terms = RelaxationSpectrum::terms;

// The arrays of these do not overlap.

THICKSET_FOUR_AT_ONCE
void log_rates(Index n,
               Pace pace,
               const double* __restrict T_K,
               const double* __restrict fictive_K,
               double* __restrict log_rate) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) log_rate[i] = pace.logarithm(T_K[i], fictive_K[i]);
}

/// The guess of the fictive temperature goes on as in the last step, never beyond where the
/// temperature itself goes.
THICKSET_FOUR_AT_ONCE
void go_on(Index n,
           double dt_s,
           const double* __restrict T_before_K,
           const double* __restrict T_K,
           const double* __restrict fictive_K,
           const double* __restrict course_K_per_s,
           double* __restrict guess_K) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double lowest = std::min(fictive_K[i], std::min(T_K[i], T_before_K[i]));
    const double highest = std::max(fictive_K[i], std::max(T_K[i], T_before_K[i]));
    guess_K[i] = std::min(highest, std::max(lowest, fictive_K[i] + dt_s * course_K_per_s[i]));
  }
}

/// What a step changed, and its pace from here on.
THICKSET_FOUR_AT_ONCE
void take_over(Index n,
               double dt_s,
               Pace pace,
               const double* __restrict T_before_K,
               const double* __restrict T_K,
               const double* __restrict fictive_before_K,
               const double* __restrict fictive_K,
               double* __restrict change_K,
               double* __restrict fictive_change_K,
               double* __restrict course_K_per_s,
               double* __restrict log_rate) {
  const double per_s = 1.0 / dt_s;
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double change = fictive_K[i] - fictive_before_K[i];
    change_K[i] = T_K[i] - T_before_K[i];
    fictive_change_K[i] = change;
    course_K_per_s[i] = per_s * change;
    log_rate[i] = pace.logarithm(T_K[i], fictive_K[i]);
  }
}

/// The reduced time of a step: the mean of exp(y) for y going straight from a to b is
/// exp(max) (1 - exp(-|b - a|))/|b - a|.
THICKSET_FOUR_AT_ONCE
void pass_time(Index n,
               double dt_s,
               const double* __restrict log_rate,
               const double* __restrict next_log_rate,
               double* __restrict passed_s,
               double* __restrict growth) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double change = next_log_rate[i] - log_rate[i];
    const double size = std::max(least_growth, std::abs(change));
    const double fastest = std::max(next_log_rate[i], log_rate[i]);
    passed_s[i] = dt_s * Exponential{fastest}.value() *
                  (Exponential{-std::min(Pace::longest_logarithm, size)}.from_one() / size);
    growth[i] = std::max(-1.0, std::min(1.0, change));
  }
}

/// All terms at a step's end, and the fictive temperature as their weighted sum.
THICKSET_FOUR_AT_ONCE
void follow(Index n,
            const double* __restrict share,
            const double* __restrict left,
            const double* __restrict mean,
            const double* __restrict T_before_K,
            const double* __restrict T_K,
            const double* __restrict term_K,
            double* __restrict next_term_K,
            double* __restrict fictive_K) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    double sum_K = 0.0;
    for (int term = 0; term < terms; ++term) {
      const double next_K = T_K[i] - (T_K[i] - T_before_K[i]) * mean[term * n + i] +
                            (term_K[term * n + i] - T_before_K[i]) * left[term * n + i];
      next_term_K[term * n + i] = next_K;
      sum_K += share[term] * next_K;
    }
    fictive_K[i] = sum_K;
  }
}

}  // namespace

Pace::Pace(const RelaxationLaw& law)
    : at_reference{law.activation_K / law.reference_K - std::log(law.mean_shear_time_s)},
      of_T_K{law.activation_K * law.x},
      of_fictive_K{law.activation_K * (1.0 - law.x)} {}

Structure::Structure(const RelaxationLaw& law,
                     const Eigen::ArrayXd& T_K,
                     const Eigen::ArrayXd& fictive_K)
    : pace_{law},
      slowest_term_s_{law.spectrum.structure_s.back()},
      T_K_{T_K},
      fictive_K_{fictive_K},
      term_K_{T_K.size(), RelaxationSpectrum::terms},
      log_rate_{T_K.size()},
      course_K_per_s_{Eigen::ArrayXd::Zero(T_K.size())},
      next_term_K_{T_K.size(), RelaxationSpectrum::terms},
      next_T_K_{T_K},
      guess_K_{T_K},
      next_fictive_K_{T_K},
      next_log_rate_{T_K.size()},
      reduced_{T_K.size()},
      change_K_{Eigen::ArrayXd::Zero(T_K.size())},
      fictive_change_K_{Eigen::ArrayXd::Zero(T_K.size())},
      decays_{T_K.size(), law.spectrum.structure_s} {
  const double sum = law.spectrum.structure_sum();
  for (std::size_t i = 0; i < share_of_term_.size(); ++i) {
    share_of_term_[i] = law.spectrum.structure[i] / sum;
  }
  for (int i = 0; i < terms; ++i) term_K_.col(i) = fictive_K;
  log_rates(T_K_.size(), pace_, T_K_.data(), fictive_K_.data(), log_rate_.data());
}

double Structure::quickest_s(double hottest_K, double dt_s) const {
  return dt_s * std::exp(pace_.logarithm(hottest_K, std::max(fictive_K_.maxCoeff(), hottest_K)));
}

double Structure::slowest_s(double coldest_K, double dt_s) const {
  return dt_s * std::exp(pace_.logarithm(coldest_K, std::min(fictive_K_.minCoeff(), coldest_K)));
}

/// A step in which no term moves, at whatever temperature between its ends.
bool Structure::stays(const Eigen::ArrayXd& T_K, double dt_s) const {
  // A cheap answer first: at the pace of the last step something would move.
  if (reduced_.longest_s * dt_s > decays_.still_s() * dt_s_) return false;
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
void Structure::guess(const Eigen::ArrayXd& T_K, double dt_s) {
  if (reduced_.shortest_s > liquid * slowest_term_s_) {
    guess_K_ = T_K;
  } else {
    go_on(T_K.size(),
          dt_s,
          T_K_.data(),
          T_K.data(),
          fictive_K_.data(),
          course_K_per_s_.data(),
          guess_K_.data());
  }
}

/// The step with the fictive temperature at its end as guessed.
void Structure::relax(const Eigen::ArrayXd& T_K, double dt_s) {
  const Index n = T_K.size();
  log_rates(n, pace_, T_K.data(), guess_K_.data(), next_log_rate_.data());
  pass_time(n,
            dt_s,
            log_rate_.data(),
            next_log_rate_.data(),
            reduced_.passed_s.data(),
            reduced_.growth.data());
  reduced_.shortest_s = reduced_.passed_s.minCoeff();
  reduced_.longest_s = reduced_.passed_s.maxCoeff();
  decays_.over(reduced_);
  if (decays_.still()) {
    stay();
    return;
  }
  follow(n,
         share_of_term_.data(),
         decays_.left(),
         decays_.mean(),
         T_K_.data(),
         T_K.data(),
         term_K_.data(),
         next_term_K_.data(),
         next_fictive_K_.data());
}

double Structure::attempt(const Eigen::ArrayXd& T_K, double dt_s) {
  const bool nothing_moves = stays(T_K, dt_s);
  dt_s_ = dt_s;
  next_T_K_ = T_K;
  if (nothing_moves) {
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
  fictive_K_.swap(next_fictive_K_);
  term_K_.swap(next_term_K_);
  T_K_.swap(next_T_K_);
  take_over(T_K_.size(),
            dt_s_,
            pace_,
            next_T_K_.data(),
            T_K_.data(),
            next_fictive_K_.data(),
            fictive_K_.data(),
            change_K_.data(),
            fictive_change_K_.data(),
            course_K_per_s_.data(),
            log_rate_.data());
}

}  // namespace thickset::relaxation

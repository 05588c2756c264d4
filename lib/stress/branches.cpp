#include "stress/branches.h"

#include <numeric>

namespace thickset::stress {

Branches::Branches(const RelaxationLaw& law,
                   const StressConstants& constants,
                   Eigen::Index points,
                   int components)
    : components_{components},
      bulk_relaxes_{law.bulk != Bulk::elastic},
      bulk_follows_shear_{law.bulk == Bulk::constant_ratio},
      decay_{points} {
  const RelaxationSpectrum& published = law.spectrum;
  const double nu = constants.poisson_ratio;
  const double shear_Pa = constants.shear_modulus_Pa;
  const double bulk_by_shear = 2.0 * (1.0 + nu) / (3.0 * (1.0 - 2.0 * nu));
  const double bulk_Pa = shear_Pa * bulk_by_shear;
  const double shear_sum =
      std::accumulate(published.shear_GPa.begin(), published.shear_GPa.end(), 0.0);
  const double bulk_sum = std::accumulate(
      published.bulk_GPa.begin(), published.bulk_GPa.end(), published.bulk_forever_GPa);
  shear_s_ = published.shear_s;
  bulk_s_ = law.bulk == Bulk::constant_ratio ? published.shear_s : published.bulk_s;
  for (std::size_t i = 0; i < shear_s_.size(); ++i) {
    shear_of_term_Pa_[i] = published.shear_GPa[i] / shear_sum * shear_Pa;
    bulk_of_term_Pa_[i] = law.bulk == Bulk::constant_ratio
                              ? shear_of_term_Pa_[i] * bulk_by_shear
                              : published.bulk_GPa[i] / bulk_sum * bulk_Pa;
  }
  if (law.bulk == Bulk::elastic) bulk_forever_Pa_ = bulk_Pa;
  if (law.bulk == Bulk::relaxing) {
    bulk_forever_Pa_ = published.bulk_forever_GPa / bulk_sum * bulk_Pa;
  }
  for (Eigen::ArrayXXd* branches : {&shear_branch_Pa_[0],
                                    &shear_branch_Pa_[1],
                                    &bulk_branch_Pa_,
                                    &shear_mean_Pa_,
                                    &bulk_mean_Pa_}) {
    branches->setZero(points, terms);
  }
  for (Eigen::ArrayXd* values : {&shear_left_Pa_[0],
                                 &shear_left_Pa_[1],
                                 &bulk_left_Pa_,
                                 &bulk_rest_Pa_,
                                 &shear_now_Pa_,
                                 &bulk_now_Pa_}) {
    values->setZero(points);
  }
}

void Branches::relax(const relaxation::ReducedTime& reduced) {
  for (int c = 0; c < components_; ++c) shear_left_Pa_[c].setZero();
  shear_now_Pa_.setZero();
  bulk_left_Pa_ = bulk_rest_Pa_;
  bulk_now_Pa_.setConstant(bulk_forever_Pa_);
  for (int i = 0; i < terms; ++i) {
    const auto term = static_cast<std::size_t>(i);
    decay_.over(reduced, shear_s_[term]);
    for (int c = 0; c < components_; ++c) {
      shear_branch_Pa_[c].col(i) *= decay_.left();
      shear_left_Pa_[c] += shear_branch_Pa_[c].col(i);
    }
    shear_mean_Pa_.col(i) = shear_of_term_Pa_[term] * decay_.mean();
    shear_now_Pa_ += shear_mean_Pa_.col(i);
    if (!bulk_relaxes_) continue;
    if (!bulk_follows_shear_) decay_.over(reduced, bulk_s_[term]);
    bulk_branch_Pa_.col(i) *= decay_.left();
    bulk_left_Pa_ += bulk_branch_Pa_.col(i);
    bulk_mean_Pa_.col(i) = bulk_of_term_Pa_[term] * decay_.mean();
    bulk_now_Pa_ += bulk_mean_Pa_.col(i);
  }
}

void Branches::add_shear(int component, const Eigen::ArrayXd& deviatoric) {
  for (int i = 0; i < terms; ++i) {
    shear_branch_Pa_[component].col(i) += 2.0 * shear_mean_Pa_.col(i) * deviatoric;
  }
}

void Branches::add_volume(const Eigen::ArrayXd& volume) {
  bulk_rest_Pa_ += bulk_forever_Pa_ * volume;
  if (!bulk_relaxes_) return;
  for (int i = 0; i < terms; ++i) bulk_branch_Pa_.col(i) += bulk_mean_Pa_.col(i) * volume;
}

}  // namespace thickset::stress

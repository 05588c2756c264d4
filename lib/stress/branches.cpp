#include "stress/branches.h"

#include <cassert>
#include <numeric>

#include "numerics/lanes.h"

namespace thickset::stress {
namespace {

using Eigen::ArrayXd;
using Eigen::Index;
using relaxation::Decays;
using Terms = RelaxationSpectrum::Terms;

constexpr int terms = RelaxationSpectrum::terms;

double sum(const Terms& values) {
  return std::accumulate(values.begin(), values.end(), 0.0);
}

/// The terms, scaled so that with `rest` they would come to `whole`.
Terms scaled(Terms values, double rest, double whole) {
  const double factor = whole / (sum(values) + rest);
  for (double& value : values) value *= factor;
  return values;
}

double bulk_by_shear(double poisson_ratio) {
  return 2.0 * (1.0 + poisson_ratio) / (3.0 * (1.0 - 2.0 * poisson_ratio));
}

/// E/(1 - nu) with E = 2 G (1 + nu).
double biaxial_modulus_Pa(const StressConstants& constants) {
  const double nu = constants.poisson_ratio;
  return 2.0 * constants.shear_modulus_Pa * (1.0 + nu) / (1.0 - nu);
}

BranchedStress shear_stress(const RelaxationLaw& law,
                            const StressConstants& constants,
                            Index points) {
  return {scaled(law.spectrum.shear_GPa, 0.0, constants.shear_modulus_Pa), 0.0, points};
}

BranchedStress bulk_stress(const RelaxationLaw& law,
                           const StressConstants& constants,
                           Index points) {
  const RelaxationSpectrum& published = law.spectrum;
  const double bulk_Pa = constants.shear_modulus_Pa * bulk_by_shear(constants.poisson_ratio);
  switch (law.bulk) {
    case Bulk::elastic: return {Terms{}, bulk_Pa, points};
    case Bulk::constant_ratio: return {scaled(published.shear_GPa, 0.0, bulk_Pa), 0.0, points};
    case Bulk::relaxing: break;
  }
  const Terms of_term_Pa = scaled(published.bulk_GPa, published.bulk_forever_GPa, bulk_Pa);
  return {of_term_Pa, bulk_Pa - sum(of_term_Pa), points};
}

// Of all terms, at n points; the arrays do not overlap.

THICKSET_FOUR_AT_ONCE
void relax_branches(Index n,
                    const double* __restrict left,
                    const double* __restrict rest_Pa,
                    double* __restrict branch_Pa,
                    double* __restrict stress_Pa) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    double sum_Pa = rest_Pa[i];
    for (int term = 0; term < terms; ++term) {
      const double relaxed_Pa = branch_Pa[term * n + i] * left[term * n + i];
      branch_Pa[term * n + i] = relaxed_Pa;
      sum_Pa += relaxed_Pa;
    }
    stress_Pa[i] = sum_Pa;
  }
}

THICKSET_FOUR_AT_ONCE
void strain_branches(Index n,
                     const double* __restrict of_term_Pa,
                     const double* __restrict mean,
                     const double* __restrict modulus_Pa,
                     const double* __restrict strain,
                     double* __restrict branch_Pa,
                     double* __restrict stress_Pa) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    stress_Pa[i] += modulus_Pa[i] * strain[i];
    for (int term = 0; term < terms; ++term) {
      branch_Pa[term * n + i] += of_term_Pa[term] * mean[term * n + i] * strain[i];
    }
  }
}

THICKSET_FOUR_AT_ONCE
void sum_moduli(Index n,
                double forever_Pa,
                const double* __restrict of_term_Pa,
                const double* __restrict mean,
                double* __restrict sum_Pa) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    double sum = forever_Pa;
    for (int term = 0; term < terms; ++term) sum += of_term_Pa[term] * mean[term * n + i];
    sum_Pa[i] = sum;
  }
}

}  // namespace

BranchedStress::BranchedStress(const Terms& of_term_Pa, double forever_Pa, Index points)
    : of_term_Pa_{of_term_Pa},
      forever_Pa_{forever_Pa},
      whole_Pa_{sum(of_term_Pa) + forever_Pa},
      branch_Pa_{Eigen::ArrayXXd::Zero(points, terms)},
      rest_Pa_{ArrayXd::Zero(points)},
      stress_Pa_{ArrayXd::Zero(points)},
      elastic_{ArrayXd::Zero(points)} {}

void BranchedStress::take_up() {
  for (int i = 0; i < terms; ++i) {
    branch_Pa_.col(i) += of_term_Pa_[static_cast<std::size_t>(i)] * elastic_;
  }
  rest_Pa_ += forever_Pa_ * elastic_;
  elastic_.setZero();
  any_elastic_ = false;
}

void BranchedStress::relax(const Decays& decays) {
  if (decays.still()) return;
  if (any_elastic_) take_up();
  relax_branches(
      stress_Pa_.size(), decays.left(), rest_Pa_.data(), branch_Pa_.data(), stress_Pa_.data());
}

void BranchedStress::strain(const Decays& decays,
                            const ArrayXd& modulus_Pa,
                            const ArrayXd& strain) {
  if (decays.still()) {
    stress_Pa_ += whole_Pa_ * strain;
    elastic_ += strain;
    any_elastic_ = true;
    return;
  }
  strain_branches(strain.size(),
                  of_term_Pa_.data(),
                  decays.mean(),
                  modulus_Pa.data(),
                  strain.data(),
                  branch_Pa_.data(),
                  stress_Pa_.data());
  if (forever_Pa_ > 0.0) rest_Pa_ += forever_Pa_ * strain;
}

void BranchedStress::modulus(const Decays& decays, ArrayXd& modulus_Pa) const {
  if (decays.still()) {
    modulus_Pa.setConstant(whole_Pa_);
    return;
  }
  sum_moduli(modulus_Pa.size(), forever_Pa_, of_term_Pa_.data(), decays.mean(), modulus_Pa.data());
}

// The decays of an elastic bulk stay as they are made: still.
Branches::Branches(const RelaxationLaw& law,
                   const StressConstants& constants,
                   Index points,
                   int components)
    : bulk_{law.bulk},
      bulk_by_shear_{bulk_by_shear(constants.poisson_ratio)},
      shear_decays_{points, law.spectrum.shear_s},
      bulk_decays_{points, law.spectrum.bulk_s},
      shear_stress_(static_cast<std::size_t>(components), shear_stress(law, constants, points)),
      bulk_stress_{bulk_stress(law, constants, points)},
      shear_Pa_{ArrayXd::Zero(points)},
      bulk_Pa_{ArrayXd::Zero(points)} {}

void Branches::relax(const relaxation::ReducedTime& reduced) {
  shear_decays_.over(reduced);
  if (bulk_ == Bulk::relaxing) bulk_decays_.over(reduced);
  for (BranchedStress& stress : shear_stress_) stress.relax(shear_decays_);
  bulk_stress_.relax(bulk_decays());
  shear_stress_.front().modulus(shear_decays_, shear_Pa_);
  if (bulk_ == Bulk::constant_ratio) {
    bulk_Pa_ = bulk_by_shear_ * shear_Pa_;
  } else {
    bulk_stress_.modulus(bulk_decays_, bulk_Pa_);
  }
}

void Branches::add_shear(int component, const ArrayXd& twice_deviatoric) {
  shear_stress_[static_cast<std::size_t>(component)].strain(
      shear_decays_, shear_Pa_, twice_deviatoric);
}

void Branches::add_volume(const ArrayXd& volume) {
  bulk_stress_.strain(bulk_decays(), bulk_Pa_, volume);
}

BiaxialBranches::BiaxialBranches(const RelaxationLaw& law,
                                 const StressConstants& constants,
                                 Index points)
    : decays_{points, law.spectrum.shear_s},
      stress_{scaled(law.spectrum.shear_GPa, 0.0, biaxial_modulus_Pa(constants)), 0.0, points},
      modulus_Pa_{ArrayXd::Zero(points)} {
  assert(law.bulk == Bulk::constant_ratio);
}

void BiaxialBranches::relax(const relaxation::ReducedTime& reduced) {
  decays_.over(reduced);
  stress_.relax(decays_);
  stress_.modulus(decays_, modulus_Pa_);
}

}  // namespace thickset::stress

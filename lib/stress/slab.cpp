#include "stress/slab.h"

#include <cassert>

#include "numerics/lanes.h"

namespace thickset::stress {
namespace {

using Eigen::Index;

// With u the in-plane strain less the strain across, e the in-plane strain and t the thermal one:
//   sigma = 2 integral G du,     2/3 sigma = integral K d(3 e - u - 3 t).
// Over a step, with what is left of the stress so far (component 0 holds sigma itself):
//   (4/3 G + K) du = K-left - 2/3 G-left + 3 K (de - dt),    sigma = G-left + 2 G du,
// so that sigma = fixed + stiffness de. The arrays do not overlap.

THICKSET_FOUR_AT_ONCE
void resist(Index n,
            const double* __restrict shear_Pa,
            const double* __restrict bulk_Pa,
            const double* __restrict shear_left_Pa,
            const double* __restrict bulk_left_Pa,
            const double* __restrict thermal,
            double* __restrict compliance_per_Pa,
            double* __restrict stiffness_Pa,
            double* __restrict fixed_Pa) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double compliance = 1.0 / (4.0 / 3.0 * shear_Pa[i] + bulk_Pa[i]);
    compliance_per_Pa[i] = compliance;
    stiffness_Pa[i] = 6.0 * shear_Pa[i] * bulk_Pa[i] * compliance;
    fixed_Pa[i] = shear_left_Pa[i] + 2.0 * shear_Pa[i] * compliance *
                                         (bulk_left_Pa[i] - 2.0 / 3.0 * shear_left_Pa[i] -
                                          3.0 * bulk_Pa[i] * thermal[i]);
  }
}

/// Twice the difference du, and the strain of the volume 3 (de - dt) - du.
THICKSET_FOUR_AT_ONCE
void differ(Index n,
            Plane plane,
            const double* __restrict lever_m,
            const double* __restrict bulk_Pa,
            const double* __restrict shear_left_Pa,
            const double* __restrict bulk_left_Pa,
            const double* __restrict thermal,
            const double* __restrict compliance_per_Pa,
            double* __restrict twice_difference,
            double* __restrict volume) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double free = 3.0 * (plane.strain + plane.curvature_per_m * lever_m[i] - thermal[i]);
    const double du =
        compliance_per_Pa[i] * (bulk_left_Pa[i] - 2.0 / 3.0 * shear_left_Pa[i] + bulk_Pa[i] * free);
    twice_difference[i] = 2.0 * du;
    volume[i] = free - du;
  }
}

// At constant Poisson ratio, with the biaxial modulus M: sigma = integral M d(e - t).

THICKSET_FOUR_AT_ONCE
void resist_biaxially(Index n,
                      const double* __restrict modulus_Pa,
                      const double* __restrict left_Pa,
                      const double* __restrict thermal,
                      double* __restrict fixed_Pa) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) fixed_Pa[i] = left_Pa[i] - modulus_Pa[i] * thermal[i];
}

THICKSET_FOUR_AT_ONCE
void strain_biaxially(Index n,
                      Plane plane,
                      const double* __restrict lever_m,
                      const double* __restrict thermal,
                      double* __restrict strain) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    strain[i] = plane.strain + plane.curvature_per_m * lever_m[i] - thermal[i];
  }
}

/// Sums over the thickness; n is a whole number of fours, each of which adds to four sums.
struct Sums {
  double stiffness_Pa, fixed_Pa;
};
THICKSET_FOUR_AT_ONCE
Sums weighted(Index n,
              const double* __restrict weight,
              const double* __restrict stiffness_Pa,
              const double* __restrict fixed_Pa) {
  double stiffness[lanes] = {};
  double fixed[lanes] = {};
  for (Index i = 0; i < n; i += lanes) {
    for (Index lane = 0; lane < lanes; ++lane) {
      stiffness[lane] += weight[i + lane] * stiffness_Pa[i + lane];
      fixed[lane] += weight[i + lane] * fixed_Pa[i + lane];
    }
  }
  return {(stiffness[0] + stiffness[1]) + (stiffness[2] + stiffness[3]),
          (fixed[0] + fixed[1]) + (fixed[2] + fixed[3])};
}

std::variant<Branches, BiaxialBranches> branches(const RelaxationLaw& law,
                                                 const StressConstants& constants,
                                                 Index points) {
  if (law.bulk == Bulk::constant_ratio) return BiaxialBranches{law, constants, points};
  return Branches{law, constants, points, 1};
}

}  // namespace

RelaxingSlab::RelaxingSlab(const conduction::Body& body,
                           const RelaxationLaw& law,
                           const StressConstants& constants,
                           Support support,
                           bool symmetric,
                           Index points)
    : branches_{branches(law, constants, points)},
      weight_{Eigen::ArrayXd::Zero(points)},
      lever_m_{Eigen::ArrayXd::Constant(points, 0.5 * body.extent_m())},
      bends_{!symmetric && support == Support::free} {
  assert(points == filled_up(points) && points >= body.nodes());
  for (Eigen::ArrayXd* values :
       {&fixed_Pa_, &stiffness_Pa_, &compliance_per_Pa_, &strain_, &volume_}) {
    values->setZero(points);
  }
  weight_.head(body.nodes()) = body.mean_weight();
  lever_m_.head(body.nodes()) = body.position_m() - 0.5 * body.extent_m();
}

const Eigen::ArrayXd& RelaxingSlab::stress_Pa() const {
  if (const auto* biaxial = std::get_if<BiaxialBranches>(&branches_)) return biaxial->stress_Pa();
  return std::get<Branches>(branches_).shear_left_Pa(0);
}

void RelaxingSlab::step(const relaxation::ReducedTime& reduced, const Eigen::ArrayXd& thermal) {
  if (auto* biaxial = std::get_if<BiaxialBranches>(&branches_)) {
    step(*biaxial, reduced, thermal);
  } else {
    step(std::get<Branches>(branches_), reduced, thermal);
  }
}

void RelaxingSlab::step(Branches& branches,
                        const relaxation::ReducedTime& reduced,
                        const Eigen::ArrayXd& thermal) {
  branches.relax(reduced);
  const Index n = thermal.size();
  resist(n,
         branches.shear_Pa().data(),
         branches.bulk_Pa().data(),
         branches.shear_left_Pa(0).data(),
         branches.bulk_left_Pa().data(),
         thermal.data(),
         compliance_per_Pa_.data(),
         stiffness_Pa_.data(),
         fixed_Pa_.data());
  differ(n,
         balance(stiffness_Pa_),
         lever_m_.data(),
         branches.bulk_Pa().data(),
         branches.shear_left_Pa(0).data(),
         branches.bulk_left_Pa().data(),
         thermal.data(),
         compliance_per_Pa_.data(),
         strain_.data(),
         volume_.data());
  branches.add_shear(0, strain_);
  branches.add_volume(volume_);
}

void RelaxingSlab::step(BiaxialBranches& branches,
                        const relaxation::ReducedTime& reduced,
                        const Eigen::ArrayXd& thermal) {
  branches.relax(reduced);
  const Index n = thermal.size();
  const Eigen::ArrayXd& modulus_Pa = branches.modulus_Pa();
  resist_biaxially(
      n, modulus_Pa.data(), branches.stress_Pa().data(), thermal.data(), fixed_Pa_.data());
  strain_biaxially(n, balance(modulus_Pa), lever_m_.data(), thermal.data(), strain_.data());
  branches.add(strain_);
}

/// The in-plane strain of the step that leaves no net force, nor a moment where the slab bends; its
/// curvature is added to that so far.
Plane RelaxingSlab::balance(const Eigen::ArrayXd& stiffness_Pa) {
  const auto [s0, f0] =
      weighted(weight_.size(), weight_.data(), stiffness_Pa.data(), fixed_Pa_.data());
  if (!bends_) return {-f0 / s0, 0.0};
  const double s1 = (weight_ * stiffness_Pa * lever_m_).sum();
  const double s2 = (weight_ * stiffness_Pa * lever_m_ * lever_m_).sum();
  const double f1 = (weight_ * fixed_Pa_ * lever_m_).sum();
  const double determinant = s0 * s2 - s1 * s1;
  const Plane plane{(s1 * f1 - s2 * f0) / determinant, (s1 * f0 - s0 * f1) / determinant};
  curvature_per_m_ += plane.curvature_per_m;
  return plane;
}

}  // namespace thickset::stress

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

/// Twice the difference du, the strain of the volume 3 (de - dt) - du, and the stress.
THICKSET_FOUR_AT_ONCE
void differ(Index n,
            double strain,
            double curvature_per_m,
            const double* __restrict lever_m,
            const double* __restrict bulk_Pa,
            const double* __restrict shear_left_Pa,
            const double* __restrict bulk_left_Pa,
            const double* __restrict thermal,
            const double* __restrict compliance_per_Pa,
            const double* __restrict stiffness_Pa,
            const double* __restrict fixed_Pa,
            double* __restrict twice_difference,
            double* __restrict volume,
            double* __restrict stress_Pa) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double in_plane = strain + curvature_per_m * lever_m[i];
    const double free = 3.0 * (in_plane - thermal[i]);
    const double du =
        compliance_per_Pa[i] * (bulk_left_Pa[i] - 2.0 / 3.0 * shear_left_Pa[i] + bulk_Pa[i] * free);
    twice_difference[i] = 2.0 * du;
    volume[i] = free - du;
    stress_Pa[i] = fixed_Pa[i] + stiffness_Pa[i] * in_plane;
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

}  // namespace

RelaxingSlab::RelaxingSlab(const conduction::Body& body,
                           const RelaxationLaw& law,
                           const StressConstants& constants,
                           Support support,
                           bool symmetric,
                           Eigen::Index points)
    : branches_{law, constants, points, 1},
      weight_{Eigen::ArrayXd::Zero(points)},
      lever_m_{Eigen::ArrayXd::Constant(points, 0.5 * body.extent_m())},
      bends_{!symmetric && support == Support::free} {
  assert(points == filled_up(points) && points >= body.nodes());
  for (Eigen::ArrayXd* values : {&stress_Pa_,
                                 &fixed_Pa_,
                                 &stiffness_Pa_,
                                 &compliance_per_Pa_,
                                 &twice_difference_,
                                 &volume_}) {
    values->setZero(points);
  }
  weight_.head(body.nodes()) = body.mean_weight();
  lever_m_.head(body.nodes()) = body.position_m() - 0.5 * body.extent_m();
}

void RelaxingSlab::step(const relaxation::ReducedTime& reduced, const Eigen::ArrayXd& thermal) {
  branches_.relax(reduced);
  const Eigen::Index n = thermal.size();
  resist(n,
         branches_.shear_Pa().data(),
         branches_.bulk_Pa().data(),
         branches_.shear_left_Pa(0).data(),
         branches_.bulk_left_Pa().data(),
         thermal.data(),
         compliance_per_Pa_.data(),
         stiffness_Pa_.data(),
         fixed_Pa_.data());
  const Plane plane = balance();
  differ(n,
         plane.strain,
         plane.curvature_per_m,
         lever_m_.data(),
         branches_.bulk_Pa().data(),
         branches_.shear_left_Pa(0).data(),
         branches_.bulk_left_Pa().data(),
         thermal.data(),
         compliance_per_Pa_.data(),
         stiffness_Pa_.data(),
         fixed_Pa_.data(),
         twice_difference_.data(),
         volume_.data(),
         stress_Pa_.data());
  branches_.add_shear(0, twice_difference_);
  branches_.add_volume(volume_);
}

/// The in-plane strain of the step that leaves no net force, nor a moment where the slab bends.
RelaxingSlab::Plane RelaxingSlab::balance() const {
  const auto [s0, f0] =
      weighted(weight_.size(), weight_.data(), stiffness_Pa_.data(), fixed_Pa_.data());
  if (!bends_) return {-f0 / s0, 0.0};
  const double s1 = (weight_ * stiffness_Pa_ * lever_m_).sum();
  const double s2 = (weight_ * stiffness_Pa_ * lever_m_ * lever_m_).sum();
  const double f1 = (weight_ * fixed_Pa_ * lever_m_).sum();
  const double determinant = s0 * s2 - s1 * s1;
  return {(s1 * f1 - s2 * f0) / determinant, (s1 * f0 - s0 * f1) / determinant};
}

}  // namespace thickset::stress

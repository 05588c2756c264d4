#include "stress/slab.h"

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

/// The difference du, and the strain of the volume 3 (de - dt) - du.
THICKSET_FOUR_AT_ONCE
void differ(Index n,
            const double* __restrict bulk_Pa,
            const double* __restrict shear_left_Pa,
            const double* __restrict bulk_left_Pa,
            const double* __restrict thermal,
            const double* __restrict compliance_per_Pa,
            const double* __restrict in_plane,
            double* __restrict difference,
            double* __restrict volume) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    const double free = 3.0 * (in_plane[i] - thermal[i]);
    const double du =
        compliance_per_Pa[i] * (bulk_left_Pa[i] - 2.0 / 3.0 * shear_left_Pa[i] + bulk_Pa[i] * free);
    difference[i] = du;
    volume[i] = free - du;
  }
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
  for (Eigen::ArrayXd* values : {&stress_Pa_,
                                 &fixed_Pa_,
                                 &stiffness_Pa_,
                                 &compliance_per_Pa_,
                                 &in_plane_,
                                 &difference_,
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
  balance();
  differ(n,
         branches_.bulk_Pa().data(),
         branches_.shear_left_Pa(0).data(),
         branches_.bulk_left_Pa().data(),
         thermal.data(),
         compliance_per_Pa_.data(),
         in_plane_.data(),
         difference_.data(),
         volume_.data());
  branches_.add_shear(0, difference_);
  branches_.add_volume(volume_);
}

void RelaxingSlab::balance() {
  const double s0 = (weight_ * stiffness_Pa_).sum();
  const double f0 = (weight_ * fixed_Pa_).sum();
  double strain = -f0 / s0;
  double curvature_per_m = 0.0;
  if (bends_) {
    const double s1 = (weight_ * stiffness_Pa_ * lever_m_).sum();
    const double s2 = (weight_ * stiffness_Pa_ * lever_m_ * lever_m_).sum();
    const double f1 = (weight_ * fixed_Pa_ * lever_m_).sum();
    const double determinant = s0 * s2 - s1 * s1;
    strain = (s1 * f1 - s2 * f0) / determinant;
    curvature_per_m = (s1 * f0 - s0 * f1) / determinant;
  }
  in_plane_ = strain + curvature_per_m * lever_m_;
  stress_Pa_ = fixed_Pa_ + stiffness_Pa_ * in_plane_;
}

}  // namespace thickset::stress

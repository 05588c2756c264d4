#include "stress/slab.h"

namespace thickset::stress {

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
  for (Eigen::ArrayXd* values :
       {&stress_Pa_, &fixed_Pa_, &stiffness_Pa_, &compliance_per_Pa_, &in_plane_, &difference_}) {
    values->setZero(points);
  }
  weight_.head(body.nodes()) = body.mean_weight();
  lever_m_.head(body.nodes()) = body.position_m() - 0.5 * body.extent_m();
}

// With u the in-plane strain less the strain across, e the in-plane strain and t the thermal one:
//   sigma = 2 integral G du,     2/3 sigma = integral K d(3 e - u - 3 t).
// Over a step, with what is left of the stress so far (component 0 holds sigma itself):
//   (4/3 G + K) du = K-left - 2/3 G-left + 3 K (de - dt),    sigma = G-left + 2 G du.
void RelaxingSlab::step(const relaxation::ReducedTime& reduced, const Eigen::ArrayXd& thermal) {
  branches_.relax(reduced);
  const Eigen::ArrayXd& shear = branches_.shear_Pa();
  const Eigen::ArrayXd& bulk = branches_.bulk_Pa();
  const Eigen::ArrayXd& shear_left = branches_.shear_left_Pa(0);
  const Eigen::ArrayXd& bulk_left = branches_.bulk_left_Pa();
  compliance_per_Pa_ = 1.0 / (4.0 / 3.0 * shear + bulk);
  stiffness_Pa_ = 6.0 * shear * bulk * compliance_per_Pa_;
  fixed_Pa_ = shear_left + 2.0 * shear * compliance_per_Pa_ *
                               (bulk_left - 2.0 / 3.0 * shear_left - 3.0 * bulk * thermal);
  balance();
  difference_ = compliance_per_Pa_ *
                (bulk_left - 2.0 / 3.0 * shear_left + 3.0 * bulk * (in_plane_ - thermal));
  branches_.add_shear(0, difference_);
  branches_.add_volume(3.0 * (in_plane_ - thermal) - difference_);
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

#include "stress/round.h"

#include <algorithm>
#include <cassert>

namespace thickset::stress {

using conduction::Solid;
using Eigen::ArrayXd;
using Eigen::Index;

namespace {

/// Value at x of the parabola through (x0, y0), (x1, y1), (x2, y2).
double parabola(double x, double x0, double y0, double x1, double y1, double x2, double y2) {
  return y0 * (x - x1) * (x - x2) / ((x0 - x1) * (x0 - x2)) +
         y1 * (x - x0) * (x - x2) / ((x1 - x0) * (x1 - x2)) +
         y2 * (x - x0) * (x - x1) / ((x2 - x0) * (x2 - x1));
}

}  // namespace

RelaxingRound::RelaxingRound(const conduction::Body& body,
                             const RelaxationLaw& law,
                             const StressConstants& constants)
    : rod_{body.solid() == Solid::cylinder},
      branches_{law, constants, body.nodes() - 1, 2},
      matrix_{body.nodes() - 1} {
  assert(body.solid() != Solid::slab && body.nodes() >= 4);
  const Index intervals = body.nodes() - 1;
  const ArrayXd& r_m = body.position_m();
  radius_m_ = 0.5 * (r_m.head(intervals) + r_m.tail(intervals));
  width_m_ = r_m.tail(intervals) - r_m.head(intervals);
  weight_ = (rod_ ? radius_m_ : ArrayXd{radius_m_ * radius_m_}) * width_m_;
  for (ArrayXd* values : {&radial_Pa_,
                          &hoop_Pa_,
                          &axial_Pa_,
                          &fixed_radial_,
                          &fixed_hoop_,
                          &fixed_axial_,
                          &along_,
                          &aside_,
                          &displacement_m_,
                          &per_axial_m_,
                          &radial_strain_,
                          &hoop_strain_,
                          &volume_}) {
    values->setZero(intervals);
  }
}

// Virtual work of every nodal displacement vanishes: sum over intervals of weight x
// (sigma_r d(eps_r) + m sigma_hoop d(eps_hoop)) = 0, m = 1 in a rod and 2 in a ball, with
// eps_r = (u2 - u1)/h, eps_hoop = (u1 + u2)/(2 r). Node 0 stays at the centre.
void RelaxingRound::step(const relaxation::ReducedTime& reduced, const ArrayXd& thermal) {
  branches_.relax(reduced);
  const ArrayXd& shear = branches_.shear_Pa();
  const ArrayXd& bulk = branches_.bulk_Pa();
  along_ = bulk + 4.0 / 3.0 * shear;
  aside_ = bulk - 2.0 / 3.0 * shear;
  // Deviators: component 0 radial, component 1 hoop; the third is minus their sum (rod: axial) or
  // the hoop again (ball).
  fixed_radial_ = branches_.bulk_left_Pa() + branches_.shear_left_Pa(0) - 3.0 * bulk * thermal;
  fixed_hoop_ = branches_.bulk_left_Pa() + branches_.shear_left_Pa(1) - 3.0 * bulk * thermal;
  fixed_axial_ = branches_.bulk_left_Pa() - branches_.shear_left_Pa(0) -
                 branches_.shear_left_Pa(1) - 3.0 * bulk * thermal;
  const double hoops = rod_ ? 1.0 : 2.0;

  matrix_.diagonal.setZero();
  matrix_.lower.setZero();
  matrix_.upper.setZero();
  displacement_m_.setZero();
  per_axial_m_.setZero();
  for (Index e = 0; e < radius_m_.size(); ++e) {
    const double radial[2] = {-1.0 / width_m_(e), 1.0 / width_m_(e)};
    const double hoop = 0.5 / radius_m_(e);
    const double hoop_along = rod_ ? along_(e) : along_(e) + aside_(e);
    for (Index a = 0; a < 2; ++a) {
      const Index row = e + a - 1;
      if (row < 0) continue;
      displacement_m_(row) -=
          weight_(e) * (radial[a] * fixed_radial_(e) + hoops * hoop * fixed_hoop_(e));
      per_axial_m_(row) -= weight_(e) * aside_(e) * (radial[a] + hoop);
      for (Index b = 0; b < 2; ++b) {
        const Index column = e + b - 1;
        if (column < 0) continue;
        const double entry =
            weight_(e) * (radial[a] * (along_(e) * radial[b] + hoops * aside_(e) * hoop) +
                          hoops * hoop * (aside_(e) * radial[b] + hoop_along * hoop));
        if (row == column) matrix_.diagonal(row) += entry;
        if (column == row + 1) matrix_.upper(row) += entry;
        if (column == row - 1) matrix_.lower(row) += entry;
      }
    }
  }
  matrix_.factor();
  matrix_.solve(displacement_m_);

  const auto strains = [&](const ArrayXd& u_m) {
    for (Index e = 0; e < radius_m_.size(); ++e) {
      const double inner_m = e > 0 ? u_m(e - 1) : 0.0;
      radial_strain_(e) = (u_m(e) - inner_m) / width_m_(e);
      hoop_strain_(e) = 0.5 * (u_m(e) + inner_m) / radius_m_(e);
    }
  };
  double axial_strain = 0.0;
  if (rod_) {
    // The axial strain that leaves no net force; the displacement is linear in it.
    matrix_.solve(per_axial_m_);
    strains(per_axial_m_);
    const double stiffness = (weight_ * (along_ + aside_ * (radial_strain_ + hoop_strain_))).sum();
    strains(displacement_m_);
    const double force =
        (weight_ * (fixed_axial_ + aside_ * (radial_strain_ + hoop_strain_))).sum();
    axial_strain = -force / stiffness;
    displacement_m_ += axial_strain * per_axial_m_;
  }
  strains(displacement_m_);
  if (rod_) {
    volume_ = radial_strain_ + hoop_strain_ + axial_strain;
    axial_Pa_ = fixed_axial_ + aside_ * (radial_strain_ + hoop_strain_) + along_ * axial_strain;
    radial_Pa_ = fixed_radial_ + along_ * radial_strain_ + aside_ * (hoop_strain_ + axial_strain);
    hoop_Pa_ = fixed_hoop_ + along_ * hoop_strain_ + aside_ * (radial_strain_ + axial_strain);
  } else {
    volume_ = radial_strain_ + 2.0 * hoop_strain_;
    radial_Pa_ = fixed_radial_ + along_ * radial_strain_ + 2.0 * aside_ * hoop_strain_;
    hoop_Pa_ = fixed_hoop_ + (along_ + aside_) * hoop_strain_ + aside_ * radial_strain_;
    axial_Pa_ = hoop_Pa_;
  }
  branches_.add_shear(0, 2.0 * (radial_strain_ - volume_ / 3.0));
  branches_.add_shear(1, 2.0 * (hoop_strain_ - volume_ / 3.0));
  branches_.add_volume(volume_ - 3.0 * thermal);
}

double RelaxingRound::surface_Pa() const {
  const Index last = radius_m_.size() - 1;
  const double surface_m = radius_m_(last) + 0.5 * width_m_(last);
  const auto at_surface = [&](const ArrayXd& stress_Pa) {
    return parabola(surface_m,
                    radius_m_(last),
                    stress_Pa(last),
                    radius_m_(last - 1),
                    stress_Pa(last - 1),
                    radius_m_(last - 2),
                    stress_Pa(last - 2));
  };
  return std::max(at_surface(hoop_Pa_), at_surface(axial_Pa_));
}

double RelaxingRound::extrapolated_to_centre_Pa(const ArrayXd& stress_Pa) const {
  // Even in r: the parabola a + b r^2 through the first two.
  const double r0 = radius_m_(0) * radius_m_(0);
  const double r1 = radius_m_(1) * radius_m_(1);
  return (stress_Pa(0) * r1 - stress_Pa(1) * r0) / (r1 - r0);
}

double RelaxingRound::centre_Pa() const {
  return std::max({extrapolated_to_centre_Pa(radial_Pa_),
                   extrapolated_to_centre_Pa(hoop_Pa_),
                   centre_axial_Pa()});
}

double RelaxingRound::centre_axial_Pa() const {
  return extrapolated_to_centre_Pa(axial_Pa_);
}

double RelaxingRound::largest_tension_Pa() const {
  return std::max({radial_Pa_.maxCoeff(),
                   hoop_Pa_.maxCoeff(),
                   axial_Pa_.maxCoeff(),
                   surface_Pa(),
                   centre_Pa()});
}

double RelaxingRound::net_stress_Pa() const {
  if (rod_) return (weight_ * axial_Pa_).sum() / weight_.sum();
  return (weight_ * (radial_Pa_ + 2.0 * hoop_Pa_)).sum() / (3.0 * weight_.sum());
}

}  // namespace thickset::stress

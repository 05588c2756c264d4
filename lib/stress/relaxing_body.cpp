#include "stress/relaxing_body.h"

#include <algorithm>
#include <cmath>

namespace thickset::stress {
namespace {

// Where no branch and no structure moves within a step, its size does not matter: spectrum seconds
// per step below this share of the shortest time.
constexpr double frozen_share = 1e-3;

Eigen::ArrayXd middles(const Eigen::ArrayXd& nodal) {
  const Eigen::Index intervals = nodal.size() - 1;
  return 0.5 * (nodal.head(intervals) + nodal.tail(intervals));
}

}  // namespace

RelaxingBody::RelaxingBody(const conduction::Body& body,
                           const RelaxationLaw& law,
                           const StressConstants& constants,
                           Support support,
                           bool symmetric,
                           const Eigen::ArrayXd& T_K,
                           double longest_change_K)
    : law_{law},
      expansion_per_K_{constants.expansion_per_K},
      liquid_extra_per_K_{constants.liquid_expansion_per_K - constants.expansion_per_K},
      longest_change_K_{longest_change_K},
      round_{body.solid() != conduction::Solid::slab},
      symmetric_{symmetric},
      position_m_{round_ ? middles(body.position_m()) : body.position_m()},
      structure_{law_, round_ ? middles(T_K) : T_K} {
  if (round_) {
    ring_.emplace(body, law_, constants);
  } else {
    slab_.emplace(body, law_, constants, support, symmetric);
  }
}

Eigen::ArrayXd RelaxingBody::at_points(const Eigen::ArrayXd& nodal) const {
  return round_ ? middles(nodal) : nodal;
}

void RelaxingBody::advance(const Eigen::ArrayXd& before_K,
                           const Eigen::ArrayXd& after_K,
                           double dt_s) {
  from_K_ = at_points(before_K);
  change_K_ = at_points(after_K) - from_K_;
  const double hottest_K = std::max(from_K_.maxCoeff(), (from_K_ + change_K_).maxCoeff());
  const bool frozen =
      structure_.quickest_s(hottest_K, dt_s) < frozen_share * law_.spectrum.shear_s.front();
  const double largest_K = change_K_.abs().maxCoeff();
  const int parts =
      frozen ? 1 : std::max(1, static_cast<int>(std::ceil(largest_K / longest_change_K_)));
  for (int part = 1; part <= parts; ++part) {
    part_K_ = from_K_ + change_K_ * (static_cast<double>(part) / parts);
    structure_.step(part_K_, dt_s / parts);
    thermal_ =
        expansion_per_K_ / parts * change_K_ + liquid_extra_per_K_ * structure_.fictive_change_K();
    if (round_) {
      ring_->step(structure_.reduced_s(), thermal_);
    } else {
      slab_->step(structure_.reduced_s(), thermal_);
    }
  }
}

double RelaxingBody::surface_Pa() const {
  return round_ ? ring_->surface_Pa() : slab_->stress_Pa()(slab_->stress_Pa().size() - 1);
}

double RelaxingBody::centre_Pa() const {
  if (round_) return ring_->centre_Pa();
  const Eigen::ArrayXd& stress_Pa = slab_->stress_Pa();
  return symmetric_ ? stress_Pa(0) : stress_Pa((stress_Pa.size() - 1) / 2);
}

double RelaxingBody::largest_tension_Pa() const {
  return round_ ? ring_->largest_tension_Pa() : slab_->stress_Pa().maxCoeff();
}

double RelaxingBody::net_stress_Pa() const {
  return round_ ? ring_->net_stress_Pa() : slab_->net_stress_Pa();
}

double RelaxingBody::surface_fictive_K() const {
  return structure_.fictive_K()(structure_.fictive_K().size() - 1);
}

double RelaxingBody::centre_fictive_K() const {
  return structure_.fictive_K()(0);
}

const Eigen::ArrayXd& RelaxingBody::stress_Pa() const {
  return round_ ? ring_->hoop_Pa() : slab_->stress_Pa();
}

}  // namespace thickset::stress

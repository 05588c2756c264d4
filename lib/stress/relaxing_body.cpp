#include "stress/relaxing_body.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numerics/lanes.h"

namespace thickset::stress {
namespace {

// Where no branch and no structure moves within a step, its size does not matter: spectrum seconds
// per step below this share of the shortest time.
constexpr double frozen_share = 1e-3;
constexpr int frozen_parts = 2;  // to see a peak of the temporary stress between two steps
// Where the slowest term of the structure has gone this many times over, nothing is left of before.
constexpr double liquid_share = 50.0;
constexpr double most_growth = 4.0;
constexpr double too_far_off = 4.0;  // times the tolerance: the part is taken back
constexpr double least_part = 1e-3;  // of a time step

/// Filled up to a whole number of fours with copies of the outermost, which change nothing but that
/// loops go in fours throughout.
Eigen::ArrayXd filled(const Eigen::ArrayXd& nodal) {
  const Eigen::Index nodes = nodal.size();
  Eigen::ArrayXd values = Eigen::ArrayXd::Constant(filled_up(nodes), nodal(nodes - 1));
  values.head(nodes) = nodal;
  return values;
}

Eigen::ArrayXd middles(const Eigen::ArrayXd& nodal) {
  const Eigen::Index intervals = nodal.size() - 1;
  return 0.5 * (nodal.head(intervals) + nodal.tail(intervals));
}

relaxation::Structure structure_at(const RelaxationLaw& law,
                                   const Eigen::ArrayXd& T_K,
                                   const RelaxationSettings& settings) {
  if (!settings.start_fictive_K) return {law, T_K};
  return {law, T_K, Eigen::ArrayXd::Constant(T_K.size(), *settings.start_fictive_K)};
}

}  // namespace

RelaxingBody::RelaxingBody(const conduction::Body& body,
                           const RelaxationLaw& law,
                           const StressConstants& constants,
                           Support support,
                           bool symmetric,
                           const Eigen::ArrayXd& T_K,
                           const RelaxationSettings& settings)
    : law_{law},
      settings_{settings},
      expansion_per_K_{constants.expansion_per_K},
      liquid_extra_per_K_{constants.liquid_expansion_per_K - constants.expansion_per_K},
      round_{body.solid() != conduction::Solid::slab},
      symmetric_{symmetric},
      position_m_{round_ ? middles(body.position_m()) : body.position_m()},
      structure_{structure_at(law_, round_ ? middles(T_K) : filled(T_K), settings)},
      nodal_K_{T_K},
      part_K_{structure_.T_K()},
      thermal_{part_K_.size()},
      part_s_{std::numeric_limits<double>::infinity()} {
  if (round_) {
    ring_.emplace(body, law_, constants);
  } else {
    slab_.emplace(body, law_, constants, support, symmetric, part_K_.size());
  }
}

/// Parts that the size of a time step asks for, or 1 where the structure's own error decides alone.
int RelaxingBody::fewest_parts(const Course& course) const {
  const double hottest_K = std::max(course.before_K.maxCoeff(), course.after_K.maxCoeff());
  const double coldest_K = std::min(course.before_K.minCoeff(), course.after_K.minCoeff());
  const RelaxationSpectrum& spectrum = law_.spectrum;
  if (structure_.quickest_s(hottest_K, course.dt_s) < frozen_share * spectrum.shear_s.front()) {
    return frozen_parts;
  }
  if (structure_.slowest_s(coldest_K, course.dt_s) > liquid_share * spectrum.structure_s.back()) {
    return 1;
  }
  const double largest_K = (course.after_K - course.before_K).abs().maxCoeff();
  return std::max(1, static_cast<int>(std::ceil(largest_K / settings_.longest_change_K)));
}

/// The temperatures at a share of the time step: Hermite's cubic.
void RelaxingBody::set_part(const Course& course, double share) {
  const Eigen::Index nodes = course.before_K.size();
  if (share == 1.0 && !round_) {
    part_K_.head(nodes) = course.after_K;
    part_K_.tail(part_K_.size() - nodes) = course.after_K(nodes - 1);
    return;
  }
  const double rest = 1.0 - share;
  const double of_before = rest * rest * (1.0 + 2.0 * share);
  const double of_after = share * share * (1.0 + 2.0 * rest);
  const double of_slope_before_s = share * rest * rest * course.dt_s;
  const double of_slope_after_s = -share * share * rest * course.dt_s;
  const auto nodal_K = of_before * course.before_K + of_after * course.after_K +
                       of_slope_before_s * course.slope_before_K_per_s +
                       of_slope_after_s * course.slope_after_K_per_s;
  if (round_) {
    nodal_K_ = nodal_K;
    part_K_ = 0.5 * (nodal_K_.head(nodes - 1) + nodal_K_.tail(nodes - 1));
  } else {
    part_K_.head(nodes) = nodal_K;
    part_K_.tail(part_K_.size() - nodes) = part_K_(nodes - 1);
  }
}

/// Lets the stress follow the part of the step that the structure is about to accept.
void RelaxingBody::strain() {
  structure_.accept();
  thermal_ = expansion_per_K_ * structure_.change_K() +
             liquid_extra_per_K_ * structure_.fictive_change_K();
  if (round_) {
    ring_->step(structure_.reduced(), thermal_);
  } else {
    slab_->step(structure_.reduced(), thermal_);
  }
  peak_tension_Pa_ = std::max(peak_tension_Pa_, largest_tension_Pa());
  peak_surface_Pa_ = std::max(peak_surface_Pa_, surface_Pa());
  ++parts_;
}

void RelaxingBody::advance(const Course& course) {
  peak_tension_Pa_ = peak_surface_Pa_ = -std::numeric_limits<double>::infinity();
  const double longest = 1.0 / fewest_parts(course);
  double done = 0.0;
  while (done < 1.0) {
    // Equal parts to the end, as far as can be told here.
    const double wanted = std::clamp(part_s_ / course.dt_s, least_part, longest);
    const double part = (1.0 - done) / std::ceil((1.0 - done) / wanted * (1.0 - 1e-9));
    const double end = part < 1.0 - done ? done + part : 1.0;
    set_part(course, end);
    const double part_s = (end - done) * course.dt_s;
    const double ratio = structure_.attempt(part_K_, part_s) / settings_.tolerance_K;
    // The guess goes wrong with the square of the part.
    part_s_ = part_s * std::min(most_growth, 1.0 / std::sqrt(std::max(ratio, 1e-6)));
    if (ratio > too_far_off && part > least_part) continue;
    strain();
    done = end;
  }
}

double RelaxingBody::surface_Pa() const {
  return round_ ? ring_->surface_Pa() : slab_->stress_Pa()(position_m_.size() - 1);
}

double RelaxingBody::centre_Pa() const {
  if (round_) return ring_->centre_Pa();
  const Eigen::ArrayXd& stress_Pa = slab_->stress_Pa();
  return symmetric_ ? stress_Pa(0) : stress_Pa((position_m_.size() - 1) / 2);
}

double RelaxingBody::centre_axial_Pa() const {
  return round_ ? ring_->centre_axial_Pa() : centre_Pa();
}

double RelaxingBody::largest_tension_Pa() const {
  return round_ ? ring_->largest_tension_Pa() : slab_->stress_Pa().maxCoeff();
}

double RelaxingBody::net_stress_Pa() const {
  return round_ ? ring_->net_stress_Pa() : slab_->net_stress_Pa();
}

double RelaxingBody::curvature_per_m() const {
  return slab_ ? slab_->curvature_per_m() : 0.0;
}

double RelaxingBody::surface_fictive_K() const {
  return structure_.fictive_K()(position_m_.size() - 1);
}

double RelaxingBody::centre_fictive_K() const {
  return structure_.fictive_K()(0);
}

Eigen::ArrayXd RelaxingBody::stress_Pa() const {
  return (round_ ? ring_->hoop_Pa() : slab_->stress_Pa()).head(position_m_.size());
}

Eigen::ArrayXd RelaxingBody::fictive_K() const {
  return structure_.fictive_K().head(position_m_.size());
}

}  // namespace thickset::stress

#pragma once

#include <optional>

#include <Eigen/Core>

#include "conduction/body.h"
#include "relaxation/structure.h"
#include "stress/round.h"
#include "stress/slab.h"

namespace thickset::stress {

/// Structure and stress of a slab, rod or ball that follow its temperatures, step by step.
///
/// Thermal strain is alpha_glass dT + (alpha_liquid - alpha_glass) dT_f. A temperature step that is
/// long for the relaxation is cut into equal parts of at most longest_change_K at any node, the
/// temperature going straight between its ends.
class RelaxingBody {
 public:
  /// At T_K, in equilibrium and free of stress.
  RelaxingBody(const conduction::Body& body,
               const RelaxationLaw& law,
               const StressConstants& constants,
               Support support,
               bool symmetric,
               const Eigen::ArrayXd& T_K,
               double longest_change_K);

  void advance(const Eigen::ArrayXd& before_K, const Eigen::ArrayXd& after_K, double dt_s);

  double surface_Pa() const;
  double centre_Pa() const;           ///< slab: mid-plane, or middle of one cooled from one face
  double largest_tension_Pa() const;  ///< anywhere
  double net_stress_Pa() const;       ///< the force balance that should be zero
  double surface_fictive_K() const;
  double centre_fictive_K() const;

  /// Profiles against position_m(): in-plane or hoop stress, and fictive temperature.
  const Eigen::ArrayXd& position_m() const { return position_m_; }
  const Eigen::ArrayXd& stress_Pa() const;
  const Eigen::ArrayXd& fictive_K() const { return structure_.fictive_K(); }

 private:
  Eigen::ArrayXd at_points(const Eigen::ArrayXd& nodal) const;

  RelaxationLaw law_;
  double expansion_per_K_, liquid_extra_per_K_, longest_change_K_;
  bool round_, symmetric_;
  Eigen::ArrayXd position_m_;
  relaxation::Structure structure_;
  std::optional<RelaxingSlab> slab_;
  std::optional<RelaxingRound> ring_;
  Eigen::ArrayXd from_K_, change_K_, part_K_, thermal_;
};

}  // namespace thickset::stress

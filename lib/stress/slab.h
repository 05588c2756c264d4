#pragma once

#include <variant>

#include <Eigen/Core>

#include "conduction/body.h"
#include "stress/branches.h"
#include "stress/elastic.h"

namespace thickset::stress {

/// In-plane strain at a distance from the middle: strain + curvature times it.
struct Plane {
  double strain, curvature_per_m;
};

/// In-plane stress at the nodes of a slab whose shear and bulk relax.
///
/// The strain across the thickness follows from zero stress there; the in-plane strain is the same
/// throughout, or goes straight where the slab bends, so that no net force (and no moment) is left.
/// Free of stress at first. Arrays may be longer than nodes: what is beyond has no weight, and
/// should be copies of the outermost. Source: [LRW65]; notes/stress.md#relaxing-slab.
class RelaxingSlab {
 public:
  RelaxingSlab(const conduction::Body& body,
               const RelaxationLaw& law,
               const StressConstants& constants,
               Support support,
               bool symmetric,
               Eigen::Index points);  ///< of the arrays: the nodes filled up to fours

  /// One step, in which this reduced time passes and the glass strains by `thermal`.
  void step(const relaxation::ReducedTime& reduced, const Eigen::ArrayXd& thermal);

  const Eigen::ArrayXd& stress_Pa() const;
  double net_stress_Pa() const { return (weight_ * stress_Pa()).sum(); }  ///< over the thickness
  /// Of a slab that bends, since the start: above 0 where the last node's face has become longer.
  double curvature_per_m() const { return curvature_per_m_; }

 private:
  void step(Branches& branches,
            const relaxation::ReducedTime& reduced,
            const Eigen::ArrayXd& thermal);
  void step(BiaxialBranches& branches,
            const relaxation::ReducedTime& reduced,
            const Eigen::ArrayXd& thermal);
  Plane balance(const Eigen::ArrayXd& stiffness_Pa);

  std::variant<Branches, BiaxialBranches> branches_;
  Eigen::ArrayXd weight_, lever_m_;
  bool bends_;
  double curvature_per_m_ = 0.0;
  Eigen::ArrayXd fixed_Pa_, stiffness_Pa_, compliance_per_Pa_, strain_, volume_;
};

}  // namespace thickset::stress

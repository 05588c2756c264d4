#pragma once

#include <Eigen/Core>

#include "conduction/body.h"
#include "stress/branches.h"
#include "stress/elastic.h"

namespace thickset::stress {

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

  const Eigen::ArrayXd& stress_Pa() const { return stress_Pa_; }
  double net_stress_Pa() const { return (weight_ * stress_Pa_).sum(); }  ///< over the thickness

 private:
  struct Plane {
    double strain, curvature_per_m;
  };
  Plane balance() const;

  Branches branches_;
  Eigen::ArrayXd weight_, lever_m_;
  bool bends_;
  Eigen::ArrayXd stress_Pa_, fixed_Pa_, stiffness_Pa_, compliance_per_Pa_, twice_difference_,
      volume_;
};

}  // namespace thickset::stress

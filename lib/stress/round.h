#pragma once

#include <Eigen/Core>

#include "conduction/body.h"
#include "numerics/tridiagonal.h"
#include "stress/branches.h"

namespace thickset::stress {

/// Stress in a long rod with free ends or in a ball whose shear and bulk relax.
///
/// Radial displacement at the nodes, straight between them; strain and stress in the middle of each
/// interval. Zero stress on the surface in its normal direction; in a rod the axial strain is the
/// same throughout and no net axial force is left. Free of stress at first. Error: second order in
/// the spacing h, h^2 ln(1/h) at the centre of a ball. Source: [BW60] 9.9, 9.13 for the equations;
/// notes/stress.md#relaxing-rod-and-ball.
class RelaxingRound {
 public:
  RelaxingRound(const conduction::Body& body,
                const RelaxationLaw& law,
                const StressConstants& constants);

  /// One step; n - 1 values each, of the intervals' middles.
  void step(const relaxation::ReducedTime& reduced, const Eigen::ArrayXd& thermal);

  /// In the middle of each interval.
  const Eigen::ArrayXd& radial_Pa() const { return radial_Pa_; }
  const Eigen::ArrayXd& hoop_Pa() const { return hoop_Pa_; }
  const Eigen::ArrayXd& axial_Pa() const { return axial_Pa_; }  ///< rod; in a ball the hoop again

  /// Extrapolated by parabolas to the surface (hoop) and the centre (largest principal).
  double surface_Pa() const;
  double centre_Pa() const;
  double centre_axial_Pa() const;  ///< in a ball the hoop again
  double largest_tension_Pa() const;
  /// Mean axial stress of a rod; mean of all three stresses in a ball, which is zero where nothing
  /// loads its surface.
  double net_stress_Pa() const;

 private:
  double extrapolated_to_centre_Pa(const Eigen::ArrayXd& stress_Pa) const;

  bool rod_;
  Branches branches_;
  Eigen::ArrayXd radius_m_, width_m_, weight_;
  Eigen::ArrayXd radial_Pa_, hoop_Pa_, axial_Pa_;
  Eigen::ArrayXd fixed_radial_, fixed_hoop_, fixed_axial_;  ///< before the step's strain
  Eigen::ArrayXd along_, aside_;                            ///< K + 4/3 G and K - 2/3 G
  Eigen::ArrayXd displacement_m_, per_axial_m_, radial_strain_, hoop_strain_, volume_;
  Tridiagonal matrix_;
};

}  // namespace thickset::stress

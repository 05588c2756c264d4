#pragma once

#include <Eigen/Core>

#include "glass/relaxation_law.h"
#include "relaxation/decay.h"

namespace thickset::stress {

/// Constants of the stress model in SI.
struct StressConstants {
  double shear_modulus_Pa;
  double poisson_ratio;
  double expansion_per_K;
  double liquid_expansion_per_K;
};

/// Shear and bulk moduli as series of relaxing branches, at a number of points, advanced by exact
/// exponentials for strains that go straight over a step of reduced time.
///
/// The published moduli are scaled so that their sums are the glass's own; with constant Poisson
/// ratio the bulk has the shear's series, with elastic bulk it has none. Source: [LRW65];
/// [CARRE99].
class Branches {
 public:
  /// components: of shear, 1 or 2.
  Branches(const RelaxationLaw& law,
           const StressConstants& constants,
           Eigen::Index points,
           int components);

  /// Lets the stress so far relax over this reduced time, and works out what a strain in this step
  /// would add.
  void relax(const relaxation::ReducedTime& reduced);

  /// What is left of the stress so far: of one shear component, and of the mean stress.
  const Eigen::ArrayXd& bulk_left_Pa() const { return bulk_left_Pa_; }
  Eigen::ArrayXd& shear_left_Pa(int component) { return shear_left_Pa_[component]; }

  /// Moduli that act on the strain of this step: d s = 2 shear d e, d p = bulk d(volume strain).
  const Eigen::ArrayXd& shear_Pa() const { return shear_now_Pa_; }
  const Eigen::ArrayXd& bulk_Pa() const { return bulk_now_Pa_; }

  /// Adds the strain of this step: deviatoric in one component, of volume (thermal part taken out).
  void add_shear(int component, const Eigen::ArrayXd& deviatoric);
  void add_volume(const Eigen::ArrayXd& volume);

 private:
  static constexpr int terms = RelaxationSpectrum::terms;

  int components_;
  bool bulk_relaxes_, bulk_follows_shear_;
  RelaxationSpectrum::Terms shear_of_term_Pa_{}, shear_s_{}, bulk_of_term_Pa_{}, bulk_s_{};
  double bulk_forever_Pa_ = 0.0;
  Eigen::ArrayXXd shear_branch_Pa_[2], bulk_branch_Pa_;
  Eigen::ArrayXXd shear_mean_Pa_, bulk_mean_Pa_;
  Eigen::ArrayXd shear_left_Pa_[2], bulk_left_Pa_, bulk_rest_Pa_;
  Eigen::ArrayXd shear_now_Pa_, bulk_now_Pa_;
  relaxation::Decay decay_;
};

}  // namespace thickset::stress

#pragma once

#include <vector>

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

/// One stress as the sum of branches that relax each at its own pace, and of one that never does;
/// at a number of points.
class BranchedStress {
 public:
  BranchedStress(const RelaxationSpectrum::Terms& of_term_Pa,
                 double forever_Pa,
                 Eigen::Index points);

  /// Lets the stress so far relax.
  void relax(const relaxation::Decays& decays);
  /// Adds a strain that came in evenly meanwhile, on which `modulus_Pa` acts.
  void strain(const relaxation::Decays& decays,
              const Eigen::ArrayXd& modulus_Pa,
              const Eigen::ArrayXd& strain);
  /// Works out the modulus, from 1 for a strain that comes in at once to what is left for ever.
  void modulus(const relaxation::Decays& decays, Eigen::ArrayXd& modulus_Pa) const;

  const Eigen::ArrayXd& stress_Pa() const { return stress_Pa_; }

 private:
  void take_up();

  RelaxationSpectrum::Terms of_term_Pa_;
  double forever_Pa_, whole_Pa_;
  Eigen::ArrayXXd branch_Pa_;
  Eigen::ArrayXd rest_Pa_, stress_Pa_;
  // Strain of steps in which nothing moved, which the branches have still to take up.
  Eigen::ArrayXd elastic_;
  bool any_elastic_ = false;
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

  /// The stress, of one shear component and the mean one: after relax() what is left of it.
  const Eigen::ArrayXd& bulk_left_Pa() const { return bulk_stress_.stress_Pa(); }
  const Eigen::ArrayXd& shear_left_Pa(int component) const {
    return shear_stress_[static_cast<std::size_t>(component)].stress_Pa();
  }

  /// Moduli that act on the strain of this step: d s = 2 shear d e, d p = bulk d(volume strain).
  const Eigen::ArrayXd& shear_Pa() const { return shear_Pa_; }
  const Eigen::ArrayXd& bulk_Pa() const { return bulk_Pa_; }

  /// Adds the strain of this step: twice the deviatoric one in one component; that of the volume,
  /// the thermal part taken out.
  void add_shear(int component, const Eigen::ArrayXd& twice_deviatoric);
  void add_volume(const Eigen::ArrayXd& volume);

 private:
  const relaxation::Decays& bulk_decays() const {
    return bulk_ == Bulk::constant_ratio ? shear_decays_ : bulk_decays_;
  }

  Bulk bulk_;
  double bulk_by_shear_;
  relaxation::Decays shear_decays_, bulk_decays_;
  std::vector<BranchedStress> shear_stress_;
  BranchedStress bulk_stress_;
  Eigen::ArrayXd shear_Pa_, bulk_Pa_;
};

/// The in-plane stress of a slab at constant Poisson ratio: shear and bulk keep pace, so that one
/// series does, of the biaxial modulus E/(1 - nu).
class BiaxialBranches {
 public:
  /// law: its bulk at constant Poisson ratio.
  BiaxialBranches(const RelaxationLaw& law, const StressConstants& constants, Eigen::Index points);

  /// As Branches::relax.
  void relax(const relaxation::ReducedTime& reduced);
  const Eigen::ArrayXd& stress_Pa() const { return stress_.stress_Pa(); }
  const Eigen::ArrayXd& modulus_Pa() const { return modulus_Pa_; }

  /// Adds the strain of this step, the thermal part taken out.
  void add(const Eigen::ArrayXd& strain) { stress_.strain(decays_, modulus_Pa_, strain); }

 private:
  relaxation::Decays decays_;
  BranchedStress stress_;
  Eigen::ArrayXd modulus_Pa_;
};

}  // namespace thickset::stress

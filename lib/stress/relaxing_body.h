#pragma once

#include <optional>

#include <Eigen/Core>

#include "conduction/body.h"
#include "relaxation/structure.h"
#include "stress/round.h"
#include "stress/slab.h"

namespace thickset::stress {

struct RelaxationSettings {
  double tolerance_K = 1.0;       ///< of foreseeing the fictive temperature of a part's end
  double longest_change_K = 4.0;  ///< of any temperature in a part
  /// Fictive temperature of glass that begins too cold to relax; else it begins in equilibrium.
  std::optional<double> start_fictive_K{};
};

/// Structure and stress of a slab, rod or ball that follow its temperatures, step by step.
///
/// Thermal strain is alpha_glass dT + (alpha_liquid - alpha_glass) dT_f. A time step of the
/// temperatures is cut into parts: short enough that the fictive temperature is foreseen within
/// tolerance_K and that no node changes by more than longest_change_K. Where nothing relaxes, or
/// all is liquid, few parts do.
class RelaxingBody {
 public:
  /// At T_K, free of stress, in equilibrium or at the settings' fictive temperature.
  RelaxingBody(const conduction::Body& body,
               const RelaxationLaw& law,
               const StressConstants& constants,
               Support support,
               bool symmetric,
               const Eigen::ArrayXd& T_K,
               const RelaxationSettings& settings = {});

  /// The temperatures over a time step: the cubic with these values and slopes at its ends.
  struct Course {
    const Eigen::ArrayXd& before_K;
    const Eigen::ArrayXd& after_K;
    const Eigen::ArrayXd& slope_before_K_per_s;
    const Eigen::ArrayXd& slope_after_K_per_s;
    double dt_s;
  };
  void advance(const Course& course);

  double surface_Pa() const;
  double centre_Pa() const;           ///< slab: mid-plane, or middle of one cooled from one face
  double centre_axial_Pa() const;     ///< the same, but of a rod always that along it
  double largest_tension_Pa() const;  ///< anywhere, now
  double net_stress_Pa() const;       ///< the force balance that should be zero
  double curvature_per_m() const;     ///< since the start, see RelaxingSlab; else 0
  /// Largest within the last time step: tension anywhere, and in the surface.
  double peak_tension_Pa() const { return peak_tension_Pa_; }
  double peak_surface_Pa() const { return peak_surface_Pa_; }
  int parts() const { return parts_; }  ///< made since the start
  double surface_fictive_K() const;
  double centre_fictive_K() const;
  double fictive_K_at(Eigen::Index node) const { return structure_.fictive_K()(node); }

  /// Profiles against position_m(): in-plane or hoop stress, and fictive temperature.
  const Eigen::ArrayXd& position_m() const { return position_m_; }
  Eigen::ArrayXd stress_Pa() const;
  Eigen::ArrayXd fictive_K() const;

 private:
  int fewest_parts(const Course& course) const;
  void set_part(const Course& course, double share);
  void strain();

  RelaxationLaw law_;
  RelaxationSettings settings_;
  double expansion_per_K_, liquid_extra_per_K_;
  bool round_, symmetric_;
  Eigen::ArrayXd position_m_;
  relaxation::Structure structure_;  ///< slab: at the nodes, filled up to a whole number of fours
  std::optional<RelaxingSlab> slab_;
  std::optional<RelaxingRound> ring_;
  Eigen::ArrayXd nodal_K_, part_K_, thermal_;
  double part_s_;  ///< the length that the last parts' errors allow
  double peak_tension_Pa_ = 0.0, peak_surface_Pa_ = 0.0;
  int parts_ = 0;
};

}  // namespace thickset::stress

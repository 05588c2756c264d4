#pragma once

#include <Eigen/Core>

#include "material/thermal_law.h"

namespace thickset::conduction {

/// The three solids in which heat flows along one coordinate only.
enum class Solid { slab, cylinder, sphere };

/// A solid cut into cells for the conduction solver: nodes from the inside (0) to the outside
/// (n-1), evenly spaced, with half cells at both ends. Areas are shares of the outer surface and
/// volumes are per square metre of it, so heat is in J/m2 of outer surface.
///
/// The steady parabola of uniform cooling is exact at the nodes for constant properties; otherwise
/// the error is second order in the spacing. Source: notes/conduction.md#cells.
class Body {
 public:
  /// Extent: half thickness or radius (slab insulated on one side: full thickness). nodes >= 3.
  Body(Solid solid,
       double extent_m,
       Eigen::Index nodes,
       ThermalLaw conductivity_W_per_m_K,
       ThermalLaw heat_capacity_J_per_kg_K,
       double density_kg_per_m3);

  Solid solid() const { return solid_; }
  Eigen::Index nodes() const { return position_m_.size(); }
  double extent_m() const { return position_m_(position_m_.size() - 1); }
  const Eigen::ArrayXd& position_m() const { return position_m_; }

  /// n cell volumes over outer surface, in m.
  const Eigen::ArrayXd& volume_m() const { return volume_m_; }

  /// n - 1 areas between neighbours over outer surface and spacing, in 1/m.
  const Eigen::ArrayXd& area_by_spacing_per_m() const { return area_by_spacing_per_m_; }

  /// Share of the inner face's area: 1 for a slab, 0 for rod and ball, which have no inner face.
  double inner_area() const { return solid_ == Solid::slab ? 1.0 : 0.0; }

  const ThermalLaw& conductivity_W_per_m_K() const { return conductivity_; }
  const ThermalLaw& heat_capacity_J_per_kg_K() const { return heat_capacity_; }
  double density_kg_per_m3() const { return density_; }

  /// Mean of a nodal quantity over the volume, with second-order end corrections (the weights of
  /// piecewise parabolas, so that the parabola of steady cooling is averaged exactly).
  double mean(const Eigen::ArrayXd& value) const { return (mean_weight_ * value).sum(); }
  const Eigen::ArrayXd& mean_weight() const { return mean_weight_; }

 private:
  Solid solid_;
  Eigen::ArrayXd position_m_, volume_m_, area_by_spacing_per_m_, mean_weight_;
  ThermalLaw conductivity_, heat_capacity_;
  double density_;
};

}  // namespace thickset::conduction

#pragma once

#include <span>
#include <vector>

#include <Eigen/Core>

#include "conduction/joint.h"
#include "material/thermal_law.h"
#include "material/wall.h"

namespace thickset::conduction {

/// The three solids in which heat flows along one coordinate only.
enum class Solid { slab, cylinder, sphere };

/// A solid cut into cells for the conduction solver: nodes from the inside (0) to the outside
/// (n-1), evenly spaced, with half cells at both ends. Areas are shares of the outer surface and
/// volumes are per square metre of it, so heat is in J/m2 of outer surface.
///
/// The steady parabola of uniform cooling is exact at the nodes for constant properties; otherwise
/// the error is second order in the spacing. Source: notes/conduction.md#cells.
///
/// Or glass with layers on it: nodes from the innermost layer through the glass to the outermost.
/// Areas and volumes stay over the glass's surface. Source: notes/conduction.md#layers.
class Body {
 public:
  /// Neighbouring nodes of one material.
  struct Region {
    Eigen::Index first, count;
    ThermalLaw conductivity_W_per_m_K, heat_capacity_J_per_kg_K;
    double density_kg_per_m3;
  };

  /// Extent: half thickness or radius (slab insulated on one side: full thickness). nodes >= 3.
  Body(Solid solid,
       double extent_m,
       Eigen::Index nodes,
       ThermalLaw conductivity_W_per_m_K,
       ThermalLaw heat_capacity_J_per_kg_K,
       double density_kg_per_m3);

  /// Glass between walls, each from the glass outwards; inner: of a slab, on the side of node 0.
  Body(const Body& glass, const Wall& inner, const Wall& outer, const AreaOutward& area = {});

  Solid solid() const { return solid_; }
  Eigen::Index nodes() const { return position_m_.size(); }
  /// Of the glass, as are position_m() = 0, mean() and the laws below.
  double extent_m() const { return position_m_(last_glass()); }
  /// n positions; 0 is the inside of the glass.
  const Eigen::ArrayXd& position_m() const { return position_m_; }
  Eigen::Index first_glass() const { return regions_[glass_].first; }
  Eigen::Index glass_nodes() const { return regions_[glass_].count; }
  Eigen::Index last_glass() const { return first_glass() + glass_nodes() - 1; }
  std::span<const Region> regions() const { return regions_; }
  const Region& region_of(Eigen::Index node) const;
  std::span<const Joint> joints() const { return joints_; }

  /// n cell volumes over outer surface, in m.
  const Eigen::ArrayXd& volume_m() const { return volume_m_; }

  /// n - 1 areas between neighbours over outer surface and spacing, in 1/m; 0 at a joint.
  const Eigen::ArrayXd& area_by_spacing_per_m() const { return area_by_spacing_per_m_; }

  /// Share of the inner face's area: 1 for a slab, 0 for rod and ball, which have no inner face.
  double inner_area() const { return solid_ == Solid::slab ? 1.0 : 0.0; }
  /// Area of the outermost face, over the glass's surface.
  double outer_area() const { return outer_area_; }

  const ThermalLaw& conductivity_W_per_m_K() const {
    return regions_[glass_].conductivity_W_per_m_K;
  }
  const ThermalLaw& heat_capacity_J_per_kg_K() const {
    return regions_[glass_].heat_capacity_J_per_kg_K;
  }
  double density_kg_per_m3() const { return regions_[glass_].density_kg_per_m3; }

  /// Mean of a nodal quantity over the volume, with second-order end corrections (the weights of
  /// piecewise parabolas, so that the parabola of steady cooling is averaged exactly).
  double mean(const Eigen::ArrayXd& value) const { return (mean_weight_ * value).sum(); }
  const Eigen::ArrayXd& mean_weight() const { return mean_weight_; }

 private:
  Solid solid_;
  Eigen::ArrayXd position_m_, volume_m_, area_by_spacing_per_m_, mean_weight_;
  std::vector<Region> regions_;
  std::size_t glass_ = 0;  ///< index of its region
  std::vector<Joint> joints_;
  double outer_area_ = 1.0;
};

}  // namespace thickset::conduction

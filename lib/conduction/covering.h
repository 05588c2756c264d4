#pragma once

#include <span>
#include <vector>

#include <Eigen/Core>

#include "conduction/joint.h"
#include "material/wall.h"

namespace thickset::conduction {

/// The layers on one face of the glass cut into cells, from the glass outwards.
///
/// A layer's outermost node stands at its face where that meets air or the kiln, with half a cell;
/// where it meets another solid, half a cell from it. Cells are about as wide as the glass's, and
/// four to a layer at least. Source: notes/conduction.md#layers.
class Covering {
 public:
  /// In: the wall, which must outlive it; spacing_m, the glass's.
  Covering(const Wall& wall, const AreaOutward& area, double spacing_m);

  /// The nodes of one material, and the joint on their inner side.
  struct Part {
    const Mould* material;
    Eigen::Index first, count;
    double area;          ///< of the joint
    double inner_half_m;  ///< of the solid inside the joint, between it and the node before
    double outer_half_m;  ///< of this material, between the joint and its first node
    double resistance_m2_K_per_W, air_m;
  };
  std::span<const Part> parts() const { return parts_; }

  Eigen::Index nodes() const { return static_cast<Eigen::Index>(distance_m_.size()); }
  std::span<const double> distance_m() const { return distance_m_; }  ///< from the glass
  std::span<const double> volume_m() const { return volume_m_; }      ///< over the glass's surface
  /// Between each node and the one before it; 0 for a part's first, which has a joint.
  std::span<const double> area_by_spacing_per_m() const { return area_by_spacing_per_m_; }

 private:
  std::vector<Part> parts_;
  std::vector<double> distance_m_, volume_m_, area_by_spacing_per_m_;
};

}  // namespace thickset::conduction

#pragma once

#include <optional>

#include "conduction/body.h"
#include "conduction/face.h"
#include "kiln/kiln.h"
#include "simulation/casting.h"
#include "stress/relaxing_body.h"

namespace thickset {

/// Which behaviour of the casting a simulation must get right; see EquivalentSlabs.
enum class Respect {
  steady_difference,  ///< temperature differences and temporary tension
  slowest_mode,       ///< how long arriving and evening take
  permanent_tension,  ///< the permanent stress at the centre
};

/// Nodes from centre to surface unless told otherwise. A slab's cells are of fourth order in the
/// spacing where it is cooled from both faces alike, a rod's and ball's of second.
inline constexpr int nodes_of_half_a_slab = 11;
inline constexpr int nodes_of_other_solids = 21;

/// The one-dimensional body that stands for a casting in a kiln, in one respect.
///
/// Slab, rod and ball are themselves, other shapes their equivalent slab with the exchange scaled
/// to the shape's own volume over surface. Walls are layers on it: all round, and scaled like the
/// exchange; where the faces of a slab differ it is whole, with node 0 on the face that cools
/// worse.
class SolidModel {
 public:
  /// nodes: from centre to surface; else those above.
  SolidModel(const Casting& casting,
             const Kiln& kiln,
             Respect respect,
             std::optional<int> nodes = std::nullopt);

  /// For conduction, with the walls.
  const conduction::Body& body() const { return covered_ ? *covered_ : glass_; }
  const conduction::Face& inner() const { return inner_; }
  const conduction::Face& outer() const { return outer_; }
  const conduction::Body& glass() const { return glass_; }  ///< alone
  /// The node of the glass that is slowest to follow the kiln.
  Eigen::Index slowest() const { return slowest_; }
  stress::Support support() const { return solid_.support; }
  bool symmetric() const { return solid_.symmetric; }
  double surface_tension_factor() const { return solid_.surface_tension_factor; }

  /// Relaxing glass in equilibrium at T_K and free of stress.
  stress::RelaxingBody relaxing_body(Bulk bulk,
                                     const Eigen::ArrayXd& T_K,
                                     const stress::RelaxationSettings& settings = {}) const;

 private:
  struct Solid {
    conduction::Solid kind;
    double extent_m;
    double exchange_factor = 1.0;
    stress::Support support = stress::Support::free;
    bool symmetric = true;
    double surface_tension_factor = 1.0;  ///< what the shape's surface has more than the slab's
  };
  static Solid solid_of(const Shape& shape, Respect respect);
  static Solid solid_of(const Casting& casting, Respect respect);
  void cover(const Casting& casting, const Kiln& kiln);

  Solid solid_;
  conduction::Body glass_;
  std::optional<conduction::Body> covered_;
  conduction::Face inner_, outer_;
  Eigen::Index slowest_ = 0;
  RelaxationLaw law_;
  stress::StressConstants constants_;
};

}  // namespace thickset

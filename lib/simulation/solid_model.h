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
/// to the shape's own volume over surface.
class SolidModel {
 public:
  /// nodes: from centre to surface; else those above.
  SolidModel(const Casting& casting,
             const Kiln& kiln,
             Respect respect,
             std::optional<int> nodes = std::nullopt);

  const conduction::Body& body() const { return body_; }
  const conduction::Face& outer() const { return outer_; }
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

  Solid solid_;
  conduction::Body body_;
  conduction::Face outer_;
  RelaxationLaw law_;
  stress::StressConstants constants_;
};

}  // namespace thickset

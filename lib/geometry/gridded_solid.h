#pragma once

#include "base/progress.h"
#include "geometry/cooled_surface.h"
#include "geometry/region.h"
#include "geometry/shape.h"
#include "geometry/solid_slabs.h"
#include "units/length.h"

#include <optional>
#include <string>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// How places in a solid are told to its caster.
enum class PlaceWords {
  from_corner,  ///< along x, y and z, from the corner of its box where all begin
  round,        ///< from its axis, and above its base
  wedge,        ///< from its thick end, and above its base
};

/// A casting whose slabs come from a grid: the shape as the models take it, and what its caster
/// should know of it. Places are from the corner of its box where all axes begin.
struct GriddedSolid {
  Gridded shape;
  PlaceWords places = PlaceWords::from_corner;
  Eigen::Vector3d box_m;  ///< its sides
  double volume_m3;
  double surface_m2;  ///< all of it
  Eigen::Vector3d ball_centre_m, hottest_m;
  double shape_factor;  ///< 1 for a slab as thick as the ball, 1/2 for a rod, 1/3 for a ball
  /// How much each slab may be off, relative; its thickness holds that already.
  struct Uncertainty {
    double steady_difference, slowest_mode, permanent_tension;
  };
  Uncertainty uncertainty;
  /// Largest permanent tension anywhere over that at the hottest place; the slab holds that too,
  /// where it is above 1.
  double largest_tension_share;
  /// Where a thin part is kept hot by a thick one beside it: see CoolingField::ThickBesideThin.
  struct ThickBesideThin {
    double share;  ///< of the largest difference that has come from the side
    Eigen::Vector3d place_m;
    Length thickness, acts_as;
  };
  ThickBesideThin thick_beside_thin;
  double unresolved;               ///< share of the volume too thin for the grid
  std::vector<std::string> notes;  ///< what was mended in a file, for the user
  /// Of a wedge: the slab with the steady difference of a long bar of each end's section.
  struct Ends {
    Length thick, thin;
    Length thick_acts_as, thin_acts_as;
  };
  std::optional<Ends> ends{};
  std::vector<Length> difference_if{};  ///< its slab of the same difference, otherwise cooled
};

/// Above this share of ThickBesideThin a caster is warned: the flat and round solids have none,
/// tapering ones up to 0.04, a plate of half the thickness on a block 0.08 to 0.10.
inline constexpr double warned_of_side_share = 0.05;

/// What is known of a solid without a grid.
struct SolidMeasures {
  std::vector<Gridded::Measures> words;
  std::string remark;
  double volume_m3, surface_m2, cooled_m2;
  AreaGrowth growth;  ///< of the cooled surface
  Eigen::Vector3d ball_centre_m;
  double ball_radius_m;
  bool held = false;  ///< in shape, so that it cannot bend as it cools unevenly
};

/// Works out the temperature field, slowest mode and permanent tension of a solid, one to three
/// seconds. Held in shape, the permanent tension is at least that of a slab held flat. Throws:
/// Error, see solid_slabs.
GriddedSolid gridded_solid(const Region& region,
                           const CoolingAt& cooling_at,
                           const SolidMeasures& known,
                           const SolidSettings& settings,
                           const Progress& progress);

}  // namespace thickset

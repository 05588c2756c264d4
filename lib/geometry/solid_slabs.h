#pragma once

#include <Eigen/Core>

#include "base/progress.h"
#include "geometry/cooled_surface.h"
#include "geometry/cooling_field.h"
#include "geometry/equivalent_slab.h"
#include "geometry/permanent_tension.h"
#include "geometry/region.h"

namespace thickset {

/// The three equivalent slabs of any solid, from its temperature field, its slowest mode and its
/// permanent tension.
struct SolidSlabs {
  EquivalentSlabs slabs;

  /// How much each thickness changes from a grid of half as many cells across, relative. An
  /// estimate of its error on the high side, not a bound.
  struct Uncertainty {
    double steady_difference, slowest_mode, permanent_tension;
  };
  Uncertainty uncertainty;

  Eigen::Vector3d hottest_m;
  double largest_tension_share;  ///< largest permanent tension in the solid over that at hottest
  /// Of the largest permanent tension: where one side cools and the solid may bend it is not where
  /// it is hottest.
  struct Largest {
    Length slab;
    double uncertainty;  ///< as above
  };
  Largest largest_tension;
  CoolingField::ThickBesideThin thick_beside_thin;
  double mean_share;    ///< mean of u over its largest value: 2/3 for a slab
  double volume_m3;     ///< from the grid
  double cells_across;  ///< of the field's grid, where hottest
  double unresolved;    ///< share of the volume in pieces too thin for the field's grid
};

struct SolidSettings {
  double field_cells = 128.0 * 128.0 * 128.0;
  double tension_cells = 64.0 * 64.0 * 64.0;
  double poisson_ratio = 0.22;
};

/// In:     as CoolingField and permanent_tension. One to two seconds; progress is told.
/// Throws: Error, as they do.
/// Source: notes/field.md, notes/conduction.md#equivalent-slabs.
SolidSlabs solid_slabs(const Region& region,
                       const CoolingAt& cooling_at,
                       const SolidSettings& settings = {},
                       const Progress& progress = {});

}  // namespace thickset

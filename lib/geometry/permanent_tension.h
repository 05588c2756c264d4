#pragma once

#include <Eigen/Core>

#include "base/progress.h"
#include "geometry/cooled_surface.h"
#include "geometry/region.h"
#include "units/length.h"

namespace thickset {

/// Tension that any solid keeps after steady cooling and evening out, by three-dimensional
/// elasticity: the differences R u / diffusivity of its temperature field are set up free of stress
/// and then go.
///
/// Stresses are in units of E alpha R / (diffusivity (1 - nu)), so that they are areas; a slab has
/// d^2 / 24 at its centre.
struct PermanentTension {
  double at_hottest_m2;  ///< largest principal stress where u is largest
  double largest_m2;     ///< in any cell a cell or more within the solid
  Eigen::Vector3d place_m;
  Length slab;         ///< with the same tension at its centre: d^2 / 24 = at_hottest
  double uncertainty;  ///< of at_hottest, relative: change from a grid of half as many cells across
  int iterations;
  double largest_uncertainty = 0.0;  ///< the same of largest
};

struct TensionSettings {
  double cells = 64.0 * 64.0 * 64.0;  ///< about as many in the solid's box
  double poisson_ratio = 0.22;
  double relative_residual_tol = 1e-6;
};

/// In:     as CoolingField; mechanically the whole surface is free, also where it is insulated or
///         behind a wall. Cells 8e3 to 8e6 (2 GB), Poisson ratio 0 to 0.4.
/// Error:  see `uncertainty`; about 0.5 % where 15 cells lie across the solid (notes/field.md).
/// Throws: Error, as CoolingField, for settings out of range, and when the iteration does not reach
///         its tolerance.
/// Source: [TG70] chapter 13 (thermal stress), notes/field.md#permanent-tension.
PermanentTension permanent_tension(const Region& region,
                                   const CoolingAt& cooling_at,
                                   const TensionSettings& settings,
                                   const Progress& progress = {});

}  // namespace thickset

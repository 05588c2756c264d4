#pragma once

#include "geometry/shape.h"

namespace thickset {

/// The slabs, cooled from both faces, that behave like a shape in one respect each.
///
/// Using the first for everything errs to the unsafe side by up to 37 % of the permanent stress.
struct EquivalentSlabs {
  Length steady_difference;  ///< same centre - surface difference in steady cooling
  Length slowest_mode;       ///< same slowest time constant: right for holds
  Length permanent_tension;  ///< same permanent tension at the centre; of wide plates, anywhere
};

/// Equivalent slabs of a shape (a slab with one cooled face counts double for the first two; free
/// to bend its stress is that of the slab itself).
///
/// Source: facts in notes/conduction.md#equivalent-slabs (series and closed forms of the Poisson
/// problem), notes/stress.md#centre-tension for the third.
EquivalentSlabs equivalent_slabs(const Shape& shape);

/// Largest value over the shape of u, where -Laplace(u) = 1 inside and u = 0 on the cooled surface,
/// in m2: centre - surface is R u / diffusivity in steady cooling at rate R.
double poisson_maximum_m2(const Shape& shape);

}  // namespace thickset

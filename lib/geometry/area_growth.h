#pragma once

#include "geometry/shape.h"

namespace thickset {

/// How the surface of a convex shape grows when every point of it moves outwards by t, over its own
/// area: 1 + per_m t + per_m2 t^2, a wall of even thickness with rounded edges.
///
/// Long bars, rods and tubes: of the section; of a tube against a core the outside, while the
/// inside of an open one shrinks as its outside grows. A slab does not grow; its edges are not in
/// it.
/// Source: [STEINER1840] S(t) = S + 2 M t + 4 pi t^2, M the integral of the mean curvature;
/// notes/conduction.md#layers.
AreaGrowth area_growth(const Shape& shape);

}  // namespace thickset

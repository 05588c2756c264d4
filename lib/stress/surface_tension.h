#pragma once

#include "geometry/shape.h"

namespace thickset::stress {

/// The most that the surface of a shape ever pulls over what its slab of the same steady difference
/// pulls at the same moment, never below 1.
///
/// In steady cooling, and on the way to it, when a rate is new and the shape is ahead of its slab:
/// 1.04 to 1.19 for bars, prisms and blocks, up to 1.05 for discs. 1 for what is solved as it is:
/// slab, rod and ball; and for tubes, both faces of which have what their mean temperature gives,
/// at most the slab's. A solid on a grid may have long faces: the largest of all.
///
/// Error:  bars and discs within 0.005 of values computed between the points of the tables, blocks
///         up to 0.03 above. Middle of faces; re-entrant corners are not in it.
/// Source: computed, not published; notes/stress.md#surface-tension.
double surface_tension_factor(const Shape& shape);

}  // namespace thickset::stress

#pragma once

#include "geometry/shape.h"

#include <variant>

namespace thickset::stress {

/// Largest surface tension of a shape while cooling over that of the slab with the same steady
/// difference, never below 1: 1.13 for bars, prisms and blocks.
///
/// 1.045 for a square bar, 1.067 for a triangular prism, 1.127 at most for a bar (1 x 1.45)
/// and 1.130 for a block (1 x 1.5 x 4), in the middle of the long faces; rods (0.75), balls (0.60)
/// and discs (0.96) stay below 1, so that the slab is on the cautious side for them. A solid
/// on a grid may have long faces: as if it had. Both faces of a tube have what its mean
/// temperature gives, at most the slab's. Source:
/// computed, not published; notes/stress.md#surface-tension.
inline double surface_tension_factor(const Shape& shape) {
  const bool has_long_faces =
      std::holds_alternative<Bar>(shape) || std::holds_alternative<Block>(shape) ||
      std::holds_alternative<Prism>(shape) || std::holds_alternative<Gridded>(shape);
  return has_long_faces ? 1.13 : 1.0;
}

}  // namespace thickset::stress

#pragma once

#include "geometry/mesh_tree.h"

#include <cstdint>

#include <Eigen/Core>

namespace thickset {

/// Parallel lines through a ball about `middle` that lies inside the solid, in steps. On the line
/// through the middle the surface is `ahead` away in `direction`, and `behind` the other way.
struct ChordBundle {
  Eigen::Vector3d middle;
  Eigen::Vector3d direction;  ///< of length 1
  double ahead, behind;
  double radius;  ///< of the ball
};

struct HalfChord {
  double at_most;  ///< infinite where nothing is known
  std::int64_t looked_at;
};

/// Half the longest chord that the solid cuts from the lines of a bundle. No ball about a place on
/// a chord is larger than half of it, for both ends are on the surface.
///
/// A bound is known where all triangles in the square column round the bundle, from a little behind
/// the one end to a little ahead of the other, face ahead in front of the middle and back behind
/// it, and reach no further. Then each line leaves the solid once at either end, since the number
/// of times can only change where the surface turns over or at the ends of the column.
///
/// Source: derived in notes/geometry.md#largest-ball.
HalfChord longest_half_chord(const MeshTree& tree, const ChordBundle& bundle);

}  // namespace thickset

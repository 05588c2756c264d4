#pragma once

#include "geometry/profile.h"

#include <Eigen/Core>

namespace thickset {

/// The largest ball that fits into a solid of revolution; where a ring of them does, one of it.
struct BallInProfile {
  Eigen::Vector2d centre_m;  ///< (r, z)
  double radius_m;           ///< of the ball found: this one fits
  double at_most_radius_m;   ///< none is larger
};

/// Branch and bound over squares of the half plane, as largest_ball_in does over cubes: the nearest
/// place of the surface lies in the half plane of a ball's centre.
///
/// Error:  at_most_radius_m <= (1 + 1e-4) radius_m, unless a million squares do not settle it.
/// Source: notes/geometry.md#solids-by-their-measures.
BallInProfile largest_ball_in(const Profile& profile);

}  // namespace thickset

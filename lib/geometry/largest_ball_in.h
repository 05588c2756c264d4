#pragma once

#include "base/progress.h"
#include "geometry/mesh_region.h"

#include <cstdint>

#include <Eigen/Core>

namespace thickset {

/// The largest ball that fits into a solid. Where several do, as in a plate, one of them, the same
/// every time.
struct LargestBall {
  Eigen::Vector3d centre_m;
  double radius_m;          ///< of the ball found: this one fits
  double at_most_radius_m;  ///< none is larger than this
};

/// The radius is found to this part of itself: at_most_radius_m <= (1 + part) radius_m.
inline constexpr double ball_accuracy = 1e-3;

/// Work after which the search ends, in boxes of the tree looked at: about ten seconds. What is
/// found then still fits, and at_most_radius_m still holds, but may lie further above.
inline constexpr std::int64_t most_ball_work = 200'000'000;

/// Branch and bound over cubes: each has the ball about its middle as a lower bound, and as upper
/// bounds what its size allows; the cube of the highest upper bound is divided next.
///
/// In:     accuracy > 0; progress is told, many times a second, how far the search has come.
/// Source: bounds derived in notes/geometry.md#largest-ball; the method, [LD60].
LargestBall largest_ball_in(const MeshRegion& region,
                            double accuracy = ball_accuracy,
                            std::int64_t most_work = most_ball_work,
                            const Progress& progress = {});

}  // namespace thickset

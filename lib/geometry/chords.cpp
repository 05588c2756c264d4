#include "geometry/chords.h"

#include <algorithm>
#include <limits>

#include <Eigen/Geometry>

namespace thickset {

HalfChord longest_half_chord(const MeshTree& tree, const ChordBundle& bundle) {
  // A tenth more than the chord of the middle: what is longer needs no bound as rough as that.
  const double margin = 0.1 * (bundle.ahead + bundle.behind);
  const double highest = bundle.ahead + margin;
  const double lowest = -bundle.behind - margin;
  Eigen::Matrix3d axes;  // two across the bundle, one along it
  axes.col(2) = bundle.direction;
  axes.col(0) = bundle.direction.unitOrthogonal();
  axes.col(1) = axes.col(2).cross(axes.col(0));
  const Eigen::Matrix3d into_column = axes.transpose();
  const Eigen::Matrix3d extent = into_column.cwiseAbs();
  const Eigen::Vector3d low_of_column{-bundle.radius, -bundle.radius, lowest};
  const Eigen::Vector3d high_of_column{bundle.radius, bundle.radius, highest};
  const auto meets_column = [&](const Eigen::Vector3d& low, const Eigen::Vector3d& high) {
    return (low.array() <= high_of_column.array()).all() &&
           (high.array() >= low_of_column.array()).all();
  };

  std::int64_t looked_at = 0;
  const auto meets = [&](const Eigen::Vector3d& low, const Eigen::Vector3d& high) {
    ++looked_at;
    const Eigen::Vector3d middle = into_column * (0.5 * (low + high) - bundle.middle);
    const Eigen::Vector3d half = extent * (0.5 * (high - low));
    return meets_column(middle - half, middle + half);
  };
  double ahead = 0.0;
  double behind = 0.0;
  bool known = true;
  const auto visit = [&](int triangle) {
    const MeshTree::Corners& t = tree.corners(triangle);
    Eigen::Matrix3d corners;
    corners << t.a - bundle.middle, t.b - bundle.middle, t.c - bundle.middle;
    corners = into_column * corners;
    const Eigen::Vector3d low = corners.rowwise().minCoeff();
    const Eigen::Vector3d high = corners.rowwise().maxCoeff();
    if (!meets_column(low, high)) return true;
    const double faces = (t.b - t.a).cross(t.c - t.a).dot(bundle.direction);
    const bool in_front = low.z() > 0.0 && faces > 0.0 && high.z() < highest;
    const bool at_back = high.z() < 0.0 && faces < 0.0 && low.z() > lowest;
    if (in_front) ahead = std::max(ahead, high.z());
    if (at_back) behind = std::max(behind, -low.z());
    known = in_front || at_back;
    return known;
  };
  tree.for_each_where(meets, visit);
  // Nothing in front or at the back: the line through the middle met the surface by rounding only.
  known = known && ahead > 0.0 && behind > 0.0;
  return {known ? 0.5 * (ahead + behind) : std::numeric_limits<double>::infinity(), looked_at};
}

}  // namespace thickset

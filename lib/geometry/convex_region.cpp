#include "geometry/convex_region.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

#include <Eigen/Geometry>

namespace thickset {
namespace {

using std::numbers::pi;

double angle_between(const Eigen::Vector3d& a, const Eigen::Vector3d& b) {
  return std::atan2(a.cross(b).norm(), a.dot(b));
}

std::size_t after(std::size_t i, std::size_t n) {
  return i + 1 == n ? 0 : i + 1;
}

}  // namespace

ConvexRegion::Face face_through(std::vector<Eigen::Vector3d> corners_m) {
  const Eigen::Vector3d normal =
      (corners_m[1] - corners_m[0]).cross(corners_m[2] - corners_m[0]).normalized();
  const double offset_m = normal.dot(corners_m[0]);
  return {normal, offset_m, std::move(corners_m)};
}

ConvexRegion::ConvexRegion(std::vector<Face> faces) : faces_{std::move(faces)} {
  bounds_m_ = {faces_.front().corners_m.front(), faces_.front().corners_m.front()};
  for (const Face& face : faces_) {
    for (const Eigen::Vector3d& corner_m : face.corners_m) {
      bounds_m_.low_m = bounds_m_.low_m.cwiseMin(corner_m);
      bounds_m_.high_m = bounds_m_.high_m.cwiseMax(corner_m);
    }
  }
}

std::vector<Region::Crossing> ConvexRegion::crossings(int axis, double u_m, double v_m) const {
  assert(axis >= 0 && axis < 3);
  Eigen::Vector3d start_m = Eigen::Vector3d::Zero();
  start_m((axis + 1) % 3) = u_m;
  start_m((axis + 2) % 3) = v_m;
  Crossing enters{-std::numeric_limits<double>::infinity(), Eigen::Vector3d::Zero()};
  Crossing leaves{std::numeric_limits<double>::infinity(), Eigen::Vector3d::Zero()};
  for (const Face& face : faces_) {
    const double along = face.normal(axis);
    const double room_m = face.offset_m - face.normal.dot(start_m);
    if (along == 0.0) {
      if (!(room_m > 0.0)) return {};
    } else if (along > 0.0) {
      if (room_m / along < leaves.position_m) leaves = {room_m / along, face.normal};
    } else if (room_m / along > enters.position_m) {
      enters = {room_m / along, face.normal};
    }
  }
  if (!(enters.position_m < leaves.position_m)) return {};
  return {enters, leaves};
}

std::size_t ConvexRegion::face_of(const Eigen::Vector3d& normal) const {
  const auto best =
      std::max_element(faces_.begin(), faces_.end(), [&](const Face& a, const Face& b) {
        return a.normal.dot(normal) < b.normal.dot(normal);
      });
  return static_cast<std::size_t>(best - faces_.begin());
}

double ConvexRegion::area_m2(std::size_t face) const {
  const std::vector<Eigen::Vector3d>& corners_m = faces_[face].corners_m;
  Eigen::Vector3d doubled = Eigen::Vector3d::Zero();
  for (std::size_t i = 2; i < corners_m.size(); ++i) {
    doubled += (corners_m[i - 1] - corners_m[0]).cross(corners_m[i] - corners_m[0]);
  }
  return 0.5 * doubled.norm();
}

double ConvexRegion::volume_m3() const {
  double thrice_m3 = 0.0;
  for (std::size_t i = 0; i < faces_.size(); ++i) thrice_m3 += faces_[i].offset_m * area_m2(i);
  return thrice_m3 / 3.0;
}

// 2 M: each edge adds its length times the angle between the normals beside it. The product of the
// curvatures sits in the corners: 2 pi less the angles of the faces that meet there.
AreaGrowth ConvexRegion::growth_of(const std::vector<bool>& counts) const {
  double area = 0.0;
  double twice_mean = 0.0;
  double product = 0.0;
  for (std::size_t f = 0; f < faces_.size(); ++f) {
    if (!counts[f]) continue;
    area += area_m2(f);
    const std::vector<Eigen::Vector3d>& corners_m = faces_[f].corners_m;
    const std::size_t n = corners_m.size();
    for (std::size_t i = 0; i < n; ++i) {
      const Eigen::Vector3d& here_m = corners_m[i];
      const Eigen::Vector3d& next_m = corners_m[after(i, n)];
      double open_angle = 2.0 * pi;
      bool all_count = true;
      int meet = 0;
      for (std::size_t g = 0; g < faces_.size(); ++g) {
        const std::vector<Eigen::Vector3d>& others_m = faces_[g].corners_m;
        const auto at = std::find(others_m.begin(), others_m.end(), here_m);
        if (at == others_m.end()) continue;
        ++meet;
        all_count = all_count && counts[g];
        const std::size_t k = static_cast<std::size_t>(at - others_m.begin());
        const std::size_t m = others_m.size();
        const Eigen::Vector3d& after_m = others_m[after(k, m)];
        const Eigen::Vector3d& ahead_m = others_m[k == 0 ? m - 1 : k - 1];
        open_angle -= angle_between(after_m - here_m, ahead_m - here_m);
        // the neighbour runs along this edge the other way; half, as it will count it too
        if (g != f && counts[g] && ahead_m == next_m) {
          twice_mean +=
              0.5 * (next_m - here_m).norm() * angle_between(faces_[f].normal, faces_[g].normal);
        }
      }
      if (all_count) product += open_angle / meet;
    }
  }
  return {twice_mean / area, product / area};
}

}  // namespace thickset

#pragma once

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "geometry/region.h"

/// Solids of which tests know the answer, as lines cross them.
namespace solid_regions {

using thickset::Region;

/// Convex: the intersection of half spaces and one quadric x^T Q x < 1, moved and turned.
class Convex : public Region {
 public:
  struct HalfSpace {
    Eigen::Vector3d normal;
    double offset_m;  ///< inside: normal . x < offset
  };

  /// In: corners or extremes of the solid give its box.
  Convex(Eigen::Matrix3d quadric, std::vector<HalfSpace> halves, Box box)
      : quadric_{std::move(quadric)}, halves_{std::move(halves)}, box_{std::move(box)} {}

  Box bounds_m() const override { return box_; }

  std::vector<Crossing> crossings(int axis, double u_m, double v_m) const override {
    const Eigen::Vector3d way = Eigen::Vector3d::Unit(axis);
    Eigen::Vector3d start = Eigen::Vector3d::Zero();
    start((axis + 1) % 3) = u_m;
    start((axis + 2) % 3) = v_m;
    double from = -1e9;
    double to = 1e9;
    Eigen::Vector3d from_normal = -way;
    Eigen::Vector3d to_normal = way;
    if (!quadric_.isZero()) {
      const double a = way.dot(quadric_ * way);
      const double b = way.dot(quadric_ * start);
      const double c = start.dot(quadric_ * start) - 1.0;
      if (a > 0.0) {
        const double square = b * b - a * c;
        if (!(square > 0.0)) return {};
        from = (-b - std::sqrt(square)) / a;
        to = (-b + std::sqrt(square)) / a;
        from_normal = (quadric_ * (start + from * way)).normalized();
        to_normal = (quadric_ * (start + to * way)).normalized();
      } else if (c >= 0.0) {
        return {};
      }
    }
    for (const HalfSpace& half : halves_) {
      const double along = half.normal.dot(way);
      const double room = half.offset_m - half.normal.dot(start);
      if (along == 0.0) {
        if (room <= 0.0) return {};
      } else if (along > 0.0 && room / along < to) {
        to = room / along;
        to_normal = half.normal;
      } else if (along < 0.0 && room / along > from) {
        from = room / along;
        from_normal = half.normal;
      }
    }
    if (!(from < to)) return {};
    return {{from, from_normal}, {to, to_normal}};
  }

 private:
  Eigen::Matrix3d quadric_;
  std::vector<HalfSpace> halves_;
  Box box_;
};

inline Convex ellipsoid(double a_m, double b_m, double c_m) {
  const Eigen::Vector3d half(a_m, b_m, c_m);
  return {half.cwiseAbs2().cwiseInverse().asDiagonal(), {}, {-half, half}};
}
inline Convex ball(double radius_m) {
  return ellipsoid(radius_m, radius_m, radius_m);
}

/// Both ends of a solid along z.
inline std::vector<Convex::HalfSpace> ends(double half_height_m) {
  return {{Eigen::Vector3d::UnitZ(), half_height_m}, {-Eigen::Vector3d::UnitZ(), half_height_m}};
}

inline Convex box(double x_m, double y_m, double z_m) {
  const Eigen::Vector3d half = 0.5 * Eigen::Vector3d(x_m, y_m, z_m);
  std::vector<Convex::HalfSpace> faces;
  for (int axis = 0; axis < 3; ++axis) {
    faces.push_back({Eigen::Vector3d::Unit(axis), half(axis)});
    faces.push_back({-Eigen::Vector3d::Unit(axis), half(axis)});
  }
  return {Eigen::Matrix3d::Zero(), faces, {-half, half}};
}

/// A block whose sides lie along the columns of a rotation.
inline Convex turned_box(double x_m, double y_m, double z_m, const Eigen::Matrix3d& rotation) {
  const Eigen::Vector3d half = 0.5 * Eigen::Vector3d(x_m, y_m, z_m);
  const Eigen::Vector3d reach = rotation.cwiseAbs() * half;
  std::vector<Convex::HalfSpace> faces;
  for (int axis = 0; axis < 3; ++axis) {
    faces.push_back({rotation.col(axis), half(axis)});
    faces.push_back({-rotation.col(axis), half(axis)});
  }
  return {Eigen::Matrix3d::Zero(), faces, {-reach, reach}};
}

/// Upright, of elliptic section.
inline Convex cylinder(double a_m, double b_m, double half_height_m) {
  const Eigen::Vector3d flat(1.0 / (a_m * a_m), 1.0 / (b_m * b_m), 0.0);
  const Eigen::Vector3d half(a_m, b_m, half_height_m);
  return {flat.asDiagonal(), ends(half_height_m), {-half, half}};
}

/// Upright, of equilateral section, its axis along z.
inline Convex prism(double side_m, double half_height_m) {
  const double to_face = side_m / (2.0 * std::sqrt(3.0));
  std::vector<Convex::HalfSpace> faces = ends(half_height_m);
  faces.push_back({Eigen::Vector3d(0.0, -1.0, 0.0), to_face});
  faces.push_back({Eigen::Vector3d(0.5 * std::sqrt(3.0), 0.5, 0.0), to_face});
  faces.push_back({Eigen::Vector3d(-0.5 * std::sqrt(3.0), 0.5, 0.0), to_face});
  return {Eigen::Matrix3d::Zero(),
          faces,
          {Eigen::Vector3d(-0.5 * side_m, -to_face, -half_height_m),
           Eigen::Vector3d(0.5 * side_m, 2.0 * to_face, half_height_m)}};
}

/// One half of a ball, cut through its centre.
inline Convex half_ball(double radius_m, const Eigen::Vector3d& outwards) {
  const Eigen::Vector3d half = Eigen::Vector3d::Constant(radius_m);
  const Eigen::Matrix3d quadric = Eigen::Matrix3d::Identity() / (radius_m * radius_m);
  return {quadric, {{outwards.normalized(), 0.0}}, {-half, half}};
}

/// A convex solid without another that lies inside it.
class Hollow : public Region {
 public:
  Hollow(Convex outer, Convex inner) : outer_{std::move(outer)}, inner_{std::move(inner)} {}

  Box bounds_m() const override { return outer_.bounds_m(); }

  std::vector<Crossing> crossings(int axis, double u_m, double v_m) const override {
    std::vector<Crossing> all = outer_.crossings(axis, u_m, v_m);
    if (all.empty()) return all;
    for (Crossing c : inner_.crossings(axis, u_m, v_m)) {
      c.position_m = std::clamp(c.position_m, all.front().position_m, all.back().position_m);
      c.normal = -c.normal;
      all.insert(all.end() - 1, c);
    }
    return all;
  }

 private:
  Convex outer_, inner_;
};

/// Two solids one above the other, as one; they must not overlap but for touching faces across z.
class Stacked : public Region {
 public:
  Stacked(Convex lower, Convex upper) : lower_{std::move(lower)}, upper_{std::move(upper)} {}

  Box bounds_m() const override {
    const Box a = lower_.bounds_m();
    const Box b = upper_.bounds_m();
    return {a.low_m.cwiseMin(b.low_m), a.high_m.cwiseMax(b.high_m)};
  }

  std::vector<Crossing> crossings(int axis, double u_m, double v_m) const override {
    std::vector<Crossing> all = lower_.crossings(axis, u_m, v_m);
    const std::vector<Crossing> more = upper_.crossings(axis, u_m, v_m);
    if (all.empty() || more.empty()) return all.empty() ? more : all;
    if (all.back().position_m >= more.front().position_m) {  // joined, or side by side in a plane
      const Crossing first =
          all.front().position_m < more.front().position_m ? all.front() : more.front();
      const Crossing last =
          all.back().position_m > more.back().position_m ? all.back() : more.back();
      return {first, last};
    }
    all.insert(all.end(), more.begin(), more.end());
    return all;
  }

 private:
  Convex lower_, upper_;
};

}  // namespace solid_regions

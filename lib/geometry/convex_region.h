#pragma once

#include "geometry/region.h"
#include "geometry/shape.h"

#include <vector>

#include <Eigen/Core>

namespace thickset {

/// A convex solid with flat faces.
class ConvexRegion : public Region {
 public:
  struct Face {
    Eigen::Vector3d normal;  ///< outwards, length 1
    double offset_m;         ///< normal . x there
    /// Its corners in the order of its edge, seen from outside against the clock.
    std::vector<Eigen::Vector3d> corners_m;
  };

  /// In: closed by its faces.
  explicit ConvexRegion(std::vector<Face> faces);

  Box bounds_m() const override { return bounds_m_; }

  /// Error:  rounding. A line in a face may be called in or out.
  std::vector<Crossing> crossings(int axis, double u_m, double v_m) const override;

  const std::vector<Face>& faces() const { return faces_; }

  /// The face with a normal: its number.
  std::size_t face_of(const Eigen::Vector3d& normal) const;

  double volume_m3() const;
  double area_m2(std::size_t face) const;

  /// How some faces grow outwards, with rounded edges between them, see area_growth.h.
  /// In: for each face whether it counts. Source: [STEINER1840].
  AreaGrowth growth_of(const std::vector<bool>& counts) const;

 private:
  std::vector<Face> faces_;
  Box bounds_m_;
};

/// The face through three corners or more, in the order of its edge.
ConvexRegion::Face face_through(std::vector<Eigen::Vector3d> corners_m);

}  // namespace thickset

#pragma once

#include "geometry/profile.h"
#include "geometry/region.h"

#include <vector>

namespace thickset {

/// The solid that a profile sweeps out round the z axis.
class RevolvedRegion : public Region {
 public:
  explicit RevolvedRegion(Profile profile);

  Box bounds_m() const override { return bounds_m_; }

  /// Error:  rounding. Each piece holds its lower end, so that a line through an end of pieces
  ///         crosses one of them; a line in a flat face counts to one side.
  std::vector<Crossing> crossings(int axis, double u_m, double v_m) const override;

  const Profile& profile() const { return profile_; }

  /// The part of the surface at a place of it.
  Profile::Part part_at(const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal) const;

 private:
  Profile profile_;
  Box bounds_m_;
};

}  // namespace thickset

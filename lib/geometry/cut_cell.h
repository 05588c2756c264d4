#pragma once

#include <array>

#include <Eigen/Core>

namespace thickset {

/// What a plane leaves of a cube of side 1 around the origin: the part with normal . x < offset.
struct CutCell {
  std::array<std::array<double, 2>, 3> open;  ///< share of each face: of each axis, back and on
  double filled;                              ///< share of the volume
};

/// In:     normal of length 1.
/// Error:  exact but for rounding.
/// Throws: nothing.
/// Source: faces by the area of a square under a line; volume and area from them by Gauss's
/// theorem.
CutCell cut_cell(const Eigen::Vector3d& normal, double offset);

}  // namespace thickset

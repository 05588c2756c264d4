#pragma once

#include <vector>

#include <Eigen/Core>

namespace thickset {

/// A bounded region of space, closed and not empty, known by where lines parallel to the axes cross
/// its surface. That is all a grid needs to know of a solid.
class Region {
 public:
  struct Box {
    Eigen::Vector3d low_m, high_m;
  };
  struct Crossing {
    double position_m;       ///< along the line
    Eigen::Vector3d normal;  ///< of the surface, outwards, of length 1
  };

  virtual ~Region() = default;

  /// The smallest box, parallel to the axes, that holds the region.
  virtual Box bounds_m() const = 0;

  /// Where the line parallel to `axis` (0, 1, 2) crosses the surface; u and v are its coordinates
  /// along the next axis and the one after it, in cyclic order.
  ///
  /// Out: rising; an even number: the region lies between the first and second, third and fourth.
  ///      A line that only touches the surface crosses it twice in one place or not at all.
  virtual std::vector<Crossing> crossings(int axis, double u_m, double v_m) const = 0;
};

}  // namespace thickset

#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// Stiffness of a cube of side 1 and Young's modulus 1, its displacements straight lines between
/// its corners in each direction, integrated exactly.
///
/// Kept for the sums and differences of the corners' displacements along the axes (Walsh modes):
/// few entries are not 0 there. Mode m of component c: bit a of m set means difference along axis
/// a. Source: [ZT00] (isoparametric brick); notes/field.md#permanent-tension.
class ElasticCube {
 public:
  explicit ElasticCube(double poisson_ratio);

  struct Entry {
    int row, column;  ///< 8 * component + mode
    double value;
  };
  const std::vector<Entry>& entries() const { return entries_; }
  /// What one corner resists with when it alone moves along an axis.
  double corner_stiffness() const { return corner_stiffness_; }
  /// Largest eigenvalue of the cube over corner_stiffness; bounds that of D^-1 A of any solid.
  double largest_eigenvalue() const { return largest_eigenvalue_; }

 private:
  std::vector<Entry> entries_;
  double corner_stiffness_ = 0.0;
  double largest_eigenvalue_ = 0.0;
};

/// Three components, each on the nodes of a lattice.
template <class Number>
struct Components {
  Number *x, *y, *z;
};

namespace elastic_cubes {

using Size = std::ptrdiff_t;

/// Adds what a row of n cubes resists with to `force`. The first cube's lowest corner is where the
/// pointers point; rows and planes of nodes as given; cubes count by `filled`. Reads and adds 0 up
/// to sixteen nodes beyond the row.
void add_resistance(const ElasticCube& cube,
                    Size n,
                    Size row,
                    Size plane,
                    const float* filled,
                    Components<const float> displacement,
                    Components<float> force);
void add_resistance(const ElasticCube& cube,
                    Size n,
                    Size row,
                    Size plane,
                    const float* filled,
                    Components<const double> displacement,
                    Components<double> force);

/// d(displacement c)/d(axis d) in the middle of one cube, per side.
Eigen::Matrix3d gradient(Size row, Size plane, Components<const double> displacement);

}  // namespace elastic_cubes
}  // namespace thickset

#include "geometry/centre_tension.h"

#include "numerics/smooth_interpolation.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>

namespace thickset::centre_tension {
namespace {

using Row = std::array<double, 9>;

// Blocks with sides a <= b, c: permanent stress along c at the centre, in units of
// E alpha R a^2 / (kappa (1 - nu)). Rows a/b, columns a/c; 0 is a side without end, so the first
// column is the long bar and the corner the slab, 1/24. Smooth across the diagonal, where the
// larger of two stresses would have a kink.
constexpr Row block_ratio = {0.0, 1.0 / 12.0, 1.0 / 6.0, 0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.8, 1.0};
constexpr std::array<Row, 9> block_stress = {{
    {0.04167, 0.04167, 0.04167, 0.04171, 0.04186, 0.04001, 0.03373, 0.02709, 0.01762},
    {0.04508, 0.04434, 0.04168, 0.04160, 0.04184, 0.04001, 0.03373, 0.02709, 0.01762},
    {0.04848, 0.04890, 0.04699, 0.04347, 0.04200, 0.03984, 0.03369, 0.02709, 0.01762},
    {0.05153, 0.05163, 0.05209, 0.04932, 0.04584, 0.04039, 0.03355, 0.02697, 0.01759},
    {0.05358, 0.05359, 0.05434, 0.05364, 0.05075, 0.04296, 0.03421, 0.02705, 0.01752},
    {0.05387, 0.05387, 0.05405, 0.05474, 0.05437, 0.04820, 0.03768, 0.02906, 0.01824},
    {0.05008, 0.05008, 0.05010, 0.05048, 0.05095, 0.04813, 0.03964, 0.03134, 0.02008},
    {0.04546, 0.04546, 0.04546, 0.04562, 0.04608, 0.04494, 0.03881, 0.03181, 0.02134},
    {0.03780, 0.03780, 0.03780, 0.03784, 0.03811, 0.03811, 0.03479, 0.03007, 0.02187},
}};

// Discs no higher than wide: stress in the plane and along the axis, in units of
// E alpha R height^2 / (kappa (1 - nu)), against height/diameter.
constexpr std::array<double, 10> flat_ratio =
    {0.0, 0.1, 0.15, 0.2, 0.25, 1.0 / 3.0, 0.5, 0.75, 0.85, 1.0};
constexpr std::array<double, 10> flat_in_plane =
    {0.04167, 0.04563, 0.04750, 0.04919, 0.05057, 0.05170, 0.04713, 0.03121, 0.02538, 0.01850};
constexpr std::array<double, 10> flat_axial =
    {0.00000, 0.00000, 0.00000, -0.00003, -0.00012, 0.00072, 0.00950, 0.02132, 0.02248, 0.02165};

// Discs higher than wide: stress along the axis, in units of E alpha R diameter^2 / (kappa (1 -
// nu)), against diameter/height. The first is the long rod, 1/32.
constexpr std::array<double, 7> tall_ratio = {0.0, 0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.8, 1.0};
constexpr std::array<double, 7> tall_axial =
    {0.03125, 0.03126, 0.03135, 0.03168, 0.03029, 0.02749, 0.02165};

constexpr double prism_stress = 0.01468;  // equilateral, in units of E alpha R side^2 / ...

double slab_with_stress_m(double stress, double side_m) {
  return side_m * std::sqrt(24.0 * stress);
}

}  // namespace

double rod_slab_m(double diameter_m) {
  assert(diameter_m > 0.0);
  return slab_with_stress_m(1.0 / 32.0, diameter_m);
}

double ball_slab_m(double diameter_m) {
  assert(diameter_m > 0.0);
  return slab_with_stress_m(1.0 / 60.0, diameter_m);
}

double prism_slab_m(double side_m) {
  assert(side_m > 0.0);
  return slab_with_stress_m(prism_stress, side_m);
}

double bar_slab_m(double side_1_m, double side_2_m) {
  return block_slab_m(side_1_m, side_2_m, std::numeric_limits<double>::infinity());
}

double block_slab_m(double side_1_m, double side_2_m, double side_3_m) {
  assert(side_1_m > 0.0 && side_2_m > 0.0 && side_3_m > 0.0);
  std::array<double, 3> side_m = {side_1_m, side_2_m, side_3_m};
  std::sort(side_m.begin(), side_m.end());
  const double to_b = side_m[0] / side_m[1];
  const double to_c = side_m[0] / side_m[2];
  const double along_b = smooth_value(block_ratio, block_ratio, block_stress, to_c, to_b);
  const double along_c = smooth_value(block_ratio, block_ratio, block_stress, to_b, to_c);
  return slab_with_stress_m(std::max(along_b, along_c), side_m[0]);
}

// Largest anywhere, of the thickness, computed: 1.107, 1.116, 1.119, 1.119 of plates 3, 4, 6 and 12
// thicknesses square; 1.118 of 1 x 6 x 12.
double largest_in_block_m(double side_1_m, double side_2_m, double side_3_m) {
  constexpr double wide = 3.0;  // over the thickness: from here on
  constexpr double at_first = 1.107;
  constexpr double per_ratio = 0.013;
  constexpr double most = 1.12;
  std::array<double, 3> side_m = {side_1_m, side_2_m, side_3_m};
  std::sort(side_m.begin(), side_m.end());
  const double centre_m = block_slab_m(side_1_m, side_2_m, side_3_m);
  const double ratio = side_m[1] / side_m[0];
  if (ratio < wide) return centre_m;
  const double near_corners = std::min(most, at_first + per_ratio * (ratio - wide));
  return std::max(centre_m, near_corners * side_m[0]);
}

double disc_slab_m(double diameter_m, double height_m) {
  assert(diameter_m > 0.0 && height_m > 0.0);
  if (height_m > diameter_m) {
    return slab_with_stress_m(smooth_value(tall_ratio, tall_axial, diameter_m / height_m),
                              diameter_m);
  }
  const double ratio = height_m / diameter_m;
  const double in_plane = smooth_value(flat_ratio, flat_in_plane, ratio);
  const double axial = smooth_value(flat_ratio, flat_axial, ratio);
  return slab_with_stress_m(std::max(in_plane, axial), height_m);
}

}  // namespace thickset::centre_tension

#include "geometry/poisson_maximum.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include <boost/math/special_functions/bessel.hpp>

namespace thickset::poisson {
namespace {

using std::numbers::pi;
// Terms beyond this exponent are left out: exp(-40) = 4e-18 is below the rounding of the sums.
constexpr double largest_exponent = 40.0;

/// 1 / cosh(x), which underflows to 0 instead of overflowing.
double sech(double x) {
  return 2.0 * std::exp(-x) / (1.0 + std::exp(-2.0 * x));
}

/// (-1)^((n-1)/2) for odd n: the sign of sin(n pi / 2).
double sign_at_centre(int n) {
  return n % 4 == 1 ? 1.0 : -1.0;
}

/// H^2 [1/2 - (16/pi^3) sum_{n odd} (-1)^((n-1)/2) / (n^3 I0(n pi R / 2H))], H half the height.
double flat_disc(double R, double H) {
  double sum = 0.0;
  for (int n = 1; n * pi * R / (2.0 * H) < largest_exponent; n += 2) {
    const double i0 = boost::math::cyl_bessel_i(0, n * pi * R / (2.0 * H));
    sum += sign_at_centre(n) / (std::pow(n, 3) * i0);
  }
  return H * H * (0.5 - 16.0 / std::pow(pi, 3) * sum);
}

/// R^2 [1/4 - 2 sum_k 1 / (j^3 J1(j) cosh(j H / R))], j the zeros of J0, H half the height.
double tall_disc(double R, double H) {
  double sum = 0.0;
  for (int k = 1; k * pi * H / R < largest_exponent; ++k) {
    const double j = boost::math::cyl_bessel_j_zero(0.0, k);
    sum += sech(j * H / R) / (std::pow(j, 3) * boost::math::cyl_bessel_j(1, j));
  }
  return R * R * (0.25 - 2.0 * sum);
}

}  // namespace

double slab_maximum_m2(double thickness_m) {
  assert(thickness_m > 0.0);
  return thickness_m * thickness_m / 8.0;
}

double rod_maximum_m2(double diameter_m) {
  assert(diameter_m > 0.0);
  return diameter_m * diameter_m / 16.0;
}

double ball_maximum_m2(double diameter_m) {
  assert(diameter_m > 0.0);
  return diameter_m * diameter_m / 24.0;
}

double triangle_maximum_m2(double side_m) {
  assert(side_m > 0.0);
  return side_m * side_m / 36.0;
}

double walled_slab_maximum_m2(double thickness_m, double wall_m, double other_wall_m) {
  assert(thickness_m > 0.0 && wall_m >= 0.0 && other_wall_m >= 0.0);
  const double c = thickness_m;
  if (std::isinf(wall_m)) return 0.5 * c * c + other_wall_m * c;
  if (std::isinf(other_wall_m)) return 0.5 * c * c + wall_m * c;
  // u = B (wall + x) - x^2/2, B = (c^2/2 + other_wall c) / (c + wall + other_wall), largest at B
  const double B = (0.5 * c * c + other_wall_m * c) / (c + wall_m + other_wall_m);
  return B * wall_m + 0.5 * B * B;
}

double rectangle_maximum_m2(double side_1_m, double side_2_m) {
  assert(side_1_m > 0.0 && side_2_m > 0.0);
  const auto [small_side, large_side] = std::minmax(side_1_m, side_2_m);
  const double a = 0.5 * small_side;
  const double b = 0.5 * large_side;
  // u = a^2 [1/2 - (16/pi^3) sum_{n odd} (-1)^((n-1)/2) / (n^3 cosh(n pi b / 2a))]
  double sum = 0.0;
  for (int n = 1; n * pi * b / (2.0 * a) < largest_exponent; n += 2) {
    sum += sign_at_centre(n) * sech(n * pi * b / (2.0 * a)) / std::pow(n, 3);
  }
  return a * a * (0.5 - 16.0 / std::pow(pi, 3) * sum);
}

double block_maximum_m2(double side_1_m, double side_2_m, double side_3_m) {
  assert(side_1_m > 0.0 && side_2_m > 0.0 && side_3_m > 0.0);
  std::array<double, 3> half = {0.5 * side_1_m, 0.5 * side_2_m, 0.5 * side_3_m};
  std::sort(half.begin(), half.end());
  const auto [a, b, c] = half;
  // u = u_rectangle(a, b) - sum_{m, n odd} 16 s_m s_n / (pi^2 m n g^2 cosh(g c)),
  // g^2 = (m pi / 2a)^2 + (n pi / 2b)^2, s the signs: cosh along the longest side
  double sum = 0.0;
  for (int m = 1; m * pi * c / (2.0 * a) < largest_exponent; m += 2) {
    for (int n = 1; n * pi * c / (2.0 * b) < largest_exponent; n += 2) {
      const double g = std::hypot(m * pi / (2.0 * a), n * pi / (2.0 * b));
      sum += sign_at_centre(m) * sign_at_centre(n) * sech(g * c) / (m * n * g * g);
    }
  }
  return rectangle_maximum_m2(2.0 * a, 2.0 * b) - 16.0 / (pi * pi) * sum;
}

double disc_maximum_m2(double diameter_m, double height_m) {
  assert(diameter_m > 0.0 && height_m > 0.0);
  return height_m < diameter_m ? flat_disc(0.5 * diameter_m, 0.5 * height_m)
                               : tall_disc(0.5 * diameter_m, 0.5 * height_m);
}

}  // namespace thickset::poisson

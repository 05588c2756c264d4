#include "geometry/annulus.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include <boost/math/special_functions/bessel.hpp>

namespace thickset::annulus {
namespace {

using boost::math::cyl_bessel_j;
using boost::math::cyl_neumann;

[[maybe_unused]] bool are_radii(const Radii& radii) {
  return radii.inner_m > 0.0 && radii.outer_m > radii.inner_m && std::isfinite(radii.outer_m);
}

// u = (b^2 - r^2)/4 + C ln(r/b): u(b) = 0, and with u(a) = 0 or u'(a) = 0
//   C = (b^2 - a^2)/(4 ln(b/a))  or  C = a^2/2
double log_share_m2(const Radii& radii, Inside inside) {
  const double a = radii.inner_m;
  const double b = radii.outer_m;
  if (inside == Inside::core) return 0.5 * a * a;
  return (b - a) * (b + a) / (4.0 * std::log1p((b - a) / a));
}

/// Integral of u r from the inner radius to r.
double integral_m4(const Radii& radii, Inside inside, double r_m) {
  const double b = radii.outer_m;
  const double c = log_share_m2(radii, inside);
  const auto primitive = [&](double r) {
    const double square = r * r;
    return square * (b * b / 8.0 - square / 16.0 + c * (0.5 * std::log(r / b) - 0.25));
  };
  return primitive(r_m) - primitive(radii.inner_m);
}

double hottest_m(const Radii& radii, Inside inside) {
  return inside == Inside::core ? radii.inner_m : std::sqrt(2.0 * log_share_m2(radii, inside));
}

// Of the temperature change -u, ends free [TG70]:
//   round it   u - [(r^2 + a^2)/(b^2 - a^2) F(b) + F(r)]/r^2,  F(r) the integral of u r from a
//   along it   u - 2 F(b)/(b^2 - a^2)
double tension_round_m2(const Radii& radii, Inside inside, double r_m) {
  const double a = radii.inner_m;
  const double b = radii.outer_m;
  const double square = r_m * r_m;
  const double whole = integral_m4(radii, inside, b);
  return u_m2(radii, inside, r_m) -
         ((square + a * a) / ((b - a) * (b + a)) * whole + integral_m4(radii, inside, r_m)) /
             square;
}

/// Where f changes its sign between low and high.
template <class F>
double root_of(const F& f, double low, double high) {
  const bool rises = f(high) > 0.0;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    ((f(middle) > 0.0) == rises ? high : low) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

Radii radii(const Tube& tube) {
  const double outer_m = 0.5 * tube.diameter.in_m();
  return {outer_m - tube.wall.in_m(), outer_m};
}

double u_m2(const Radii& radii, Inside inside, double r_m) {
  assert(are_radii(radii));
  const double b = radii.outer_m;
  return 0.25 * (b - r_m) * (b + r_m) + log_share_m2(radii, inside) * std::log(r_m / b);
}

double largest_m2(const Radii& radii, Inside inside) {
  return u_m2(radii, inside, hottest_m(radii, inside));
}

double mean_m2(const Radii& radii, Inside inside) {
  assert(are_radii(radii));
  const double area_m2 =
      (radii.outer_m - radii.inner_m) * (radii.outer_m + radii.inner_m);  // over pi
  return 2.0 * integral_m4(radii, inside, radii.outer_m) / area_m2;
}

// J0(k a) Y0(k b) = J0(k b) Y0(k a), and with v'(a) = 0: J1(k a) Y0(k b) = J0(k b) Y1(k a).
// k times the wall lies between the slab's (pi, pi/2) and the rod's 2.404826.
double first_eigenvalue_per_m2(const Radii& radii, Inside inside) {
  assert(are_radii(radii));
  const double a = radii.inner_m;
  const double b = radii.outer_m;
  const int order = inside == Inside::core ? 1 : 0;
  const auto f = [&](double k) {
    return cyl_bessel_j(order, k * a) * cyl_neumann(0, k * b) -
           cyl_bessel_j(0, k * b) * cyl_neumann(order, k * a);
  };
  constexpr double of_rod = 2.404;  // a little below the zero of J0
  constexpr double above_rod = 2.406;
  const double of_slab = inside == Inside::core ? 0.5 * std::numbers::pi : std::numbers::pi;
  constexpr double rounding = 1e-9;
  const double low = inside == Inside::core ? of_slab * (1.0 - rounding) : of_rod;
  const double high = inside == Inside::core ? above_rod : of_slab * (1.0 + rounding);
  const double k = root_of(f, low / (b - a), high / (b - a));
  return k * k;
}

double permanent_tension_m2(const Radii& radii, Inside inside) {
  const double along_m2 = largest_m2(radii, inside) - mean_m2(radii, inside);
  constexpr int parts = 64;
  const double part_m = (radii.outer_m - radii.inner_m) / parts;
  const auto round_at = [&](double r_m) { return tension_round_m2(radii, inside, r_m); };
  int best = 0;
  for (int i = 1; i <= parts; ++i) {
    if (round_at(radii.inner_m + i * part_m) > round_at(radii.inner_m + best * part_m)) best = i;
  }
  double low_m = radii.inner_m + std::max(best - 1, 0) * part_m;
  double high_m = radii.inner_m + std::min(best + 1, parts) * part_m;
  for (int i = 0; i < 40; ++i) {
    const double third_m = (high_m - low_m) / 3.0;
    (round_at(low_m + third_m) < round_at(high_m - third_m) ? low_m += third_m : high_m -= third_m);
  }
  return std::max(along_m2, round_at(0.5 * (low_m + high_m)));
}

}  // namespace thickset::annulus

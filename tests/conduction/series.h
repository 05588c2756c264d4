#pragma once

#include <boost/math/special_functions/bessel.hpp>
#include <boost/math/tools/roots.hpp>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <limits>
#include <numbers>
#include <vector>

#include "conduction/body.h"

/// Series solutions of slab, cylinder and sphere after a sudden change of the surroundings, apart
/// from the library: theta = (T - T_inf)/(T_start - T_inf) against Fourier number and x = position
/// over extent. Sources: [CJ59] 3.11, 7.7 and 9.4; [INC07] 5.5 and 5.6 in these letters.
namespace series {

using thickset::conduction::Solid;

inline constexpr double pi = std::numbers::pi;
inline constexpr double prescribed_surface = std::numeric_limits<double>::infinity();  ///< Biot

inline double bessel_j(int order, double x) {
  return boost::math::cyl_bessel_j(order, x);
}

/// The function whose zeros are the roots; finite everywhere.
inline double root_function(Solid solid, double biot, double zeta) {
  const bool fixed = std::isinf(biot);
  switch (solid) {
    case Solid::slab: return fixed ? std::cos(zeta) : zeta * std::sin(zeta) - biot * std::cos(zeta);
    case Solid::cylinder:
      return fixed ? bessel_j(0, zeta) : zeta * bessel_j(1, zeta) - biot * bessel_j(0, zeta);
    case Solid::sphere:
      return fixed ? std::sin(zeta)
                   : std::sin(zeta) - zeta * std::cos(zeta) - biot * std::sin(zeta);
  }
  return 0.0;
}

/// Shape of a mode, 1 at the centre.
inline double mode(Solid solid, double argument) {
  switch (solid) {
    case Solid::slab: return std::cos(argument);
    case Solid::cylinder: return bessel_j(0, argument);
    case Solid::sphere: return argument == 0.0 ? 1.0 : std::sin(argument) / argument;
  }
  return 0.0;
}

/// Mean of a mode over the volume.
inline double mode_mean(Solid solid, double z) {
  switch (solid) {
    case Solid::slab: return std::sin(z) / z;
    case Solid::cylinder: return 2.0 * bessel_j(1, z) / z;
    case Solid::sphere: return 3.0 * (std::sin(z) - z * std::cos(z)) / (z * z * z);
  }
  return 0.0;
}

/// C_n of the printed tables.
inline double coefficient(Solid solid, double z) {
  switch (solid) {
    case Solid::slab: return 4.0 * std::sin(z) / (2.0 * z + std::sin(2.0 * z));
    case Solid::cylinder: {
      const double j0 = bessel_j(0, z);
      const double j1 = bessel_j(1, z);
      return 2.0 / z * j1 / (j0 * j0 + j1 * j1);
    }
    case Solid::sphere:
      return 4.0 * (std::sin(z) - z * std::cos(z)) / (2.0 * z - std::sin(2.0 * z));
  }
  return 0.0;
}

/// The first roots, found by walking from 0 and bracketing every change of sign. Neighbouring roots
/// are about pi apart.
inline std::vector<double> roots(Solid solid, double biot, int count) {
  const auto f = [&](double zeta) { return root_function(solid, biot, zeta); };
  constexpr double stride = 0.05;
  std::vector<double> found;
  double left = 1e-3;  // below every root wanted here: the lowest grows as sqrt(Biot)
  while (static_cast<int>(found.size()) < count) {
    const double right = left + stride;
    if (f(left) * f(right) <= 0.0) {
      std::uintmax_t most = 100;
      const auto bracket = boost::math::tools::toms748_solve(
          f, left, right, boost::math::tools::eps_tolerance<double>(50), most);
      found.push_back(0.5 * (bracket.first + bracket.second));
    }
    left = right;
  }
  return found;
}

/// The answer for one solid and Biot number at any time and place.
class Step {
 public:
  Step(Solid solid, double biot, int terms = 60)
      : solid_{solid}, roots_{roots(solid, biot, terms)} {}

  double theta(double fourier, double x) const {
    double sum = 0.0;
    for (const double z : roots_) {
      sum += coefficient(solid_, z) * std::exp(-z * z * fourier) * mode(solid_, z * x);
    }
    return sum;
  }
  double mean(double fourier) const {
    double sum = 0.0;
    for (const double z : roots_) {
      sum += coefficient(solid_, z) * std::exp(-z * z * fourier) * mode_mean(solid_, z);
    }
    return sum;
  }
  double first_root() const { return roots_.front(); }
  double first_coefficient() const { return coefficient(solid_, roots_.front()); }

 private:
  Solid solid_;
  std::vector<double> roots_;
};

}  // namespace series

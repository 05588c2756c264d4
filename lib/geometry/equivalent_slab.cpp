#include "geometry/equivalent_slab.h"

#include "geometry/annulus.h"
#include "geometry/centre_tension.h"
#include "geometry/poisson_maximum.h"

#include <cmath>
#include <numbers>

#include <boost/math/special_functions/bessel.hpp>

namespace thickset {
namespace {

using std::numbers::pi;

double squared(double x) {
  return x * x;
}

/// First zero of J0, 2.404826.
double first_bessel_zero() {
  static const double j01 = boost::math::cyl_bessel_j_zero(0.0, 1);
  return j01;
}

// An insulated face is a plane of symmetry of a slab twice as thick.
double symmetric_thickness_m(const Slab& slab) {
  return slab.thickness.in_m() * (slab.faces == Faces::both ? 1.0 : 2.0);
}

double maximum_m2(const Slab& slab) {
  return poisson::slab_maximum_m2(symmetric_thickness_m(slab));
}
double maximum_m2(const Rod& rod) {
  return poisson::rod_maximum_m2(rod.diameter.in_m());
}
double maximum_m2(const Ball& ball) {
  return poisson::ball_maximum_m2(ball.diameter.in_m());
}
double maximum_m2(const Block& block) {
  return poisson::block_maximum_m2(block.a.in_m(), block.b.in_m(), block.c.in_m());
}
double maximum_m2(const Disc& disc) {
  return poisson::disc_maximum_m2(disc.diameter.in_m(), disc.height.in_m());
}
double maximum_m2(const Bar& bar) {
  return poisson::rectangle_maximum_m2(bar.a.in_m(), bar.b.in_m());
}
double maximum_m2(const Prism& prism) {
  return poisson::triangle_maximum_m2(prism.side.in_m());
}

// Smallest eigenvalue of -Laplace(u) = lambda u, u = 0 on the cooled surface.
double first_eigenvalue_per_m2(const Slab& slab) {
  return squared(pi / symmetric_thickness_m(slab));
}
double first_eigenvalue_per_m2(const Rod& rod) {
  return squared(2.0 * first_bessel_zero() / rod.diameter.in_m());
}
double first_eigenvalue_per_m2(const Ball& ball) {
  return squared(2.0 * pi / ball.diameter.in_m());
}
double first_eigenvalue_per_m2(const Block& block) {
  return squared(pi / block.a.in_m()) + squared(pi / block.b.in_m()) + squared(pi / block.c.in_m());
}
double first_eigenvalue_per_m2(const Disc& disc) {
  return squared(2.0 * first_bessel_zero() / disc.diameter.in_m()) +
         squared(pi / disc.height.in_m());
}
double first_eigenvalue_per_m2(const Bar& bar) {
  return squared(pi / bar.a.in_m()) + squared(pi / bar.b.in_m());
}
double first_eigenvalue_per_m2(const Prism& prism) {
  return 16.0 / 3.0 * squared(pi / prism.side.in_m());  // [LAME1833]
}

double tension_thickness_m(const Slab& slab) {
  return slab.thickness.in_m() * (slab.faces == Faces::one_held ? 2.0 : 1.0);
}
double tension_thickness_m(const Rod& rod) {
  return centre_tension::rod_slab_m(rod.diameter.in_m());
}
double tension_thickness_m(const Ball& ball) {
  return centre_tension::ball_slab_m(ball.diameter.in_m());
}
double tension_thickness_m(const Block& block) {
  return centre_tension::largest_in_block_m(block.a.in_m(), block.b.in_m(), block.c.in_m());
}
double tension_thickness_m(const Disc& disc) {
  return centre_tension::disc_slab_m(disc.diameter.in_m(), disc.height.in_m());
}
double tension_thickness_m(const Bar& bar) {
  return centre_tension::bar_slab_m(bar.a.in_m(), bar.b.in_m());
}
double tension_thickness_m(const Prism& prism) {
  return centre_tension::prism_slab_m(prism.side.in_m());
}

double maximum_m2(const Tube& tube) {
  return annulus::largest_m2(annulus::radii(tube), tube.inside);
}
double first_eigenvalue_per_m2(const Tube& tube) {
  return annulus::first_eigenvalue_per_m2(annulus::radii(tube), tube.inside);
}
double tension_thickness_m(const Tube& tube) {
  return std::sqrt(24.0 * annulus::permanent_tension_m2(annulus::radii(tube), tube.inside));
}

double maximum_m2(const Gridded& solid) {
  return squared(solid.steady_difference.in_m()) / 8.0;
}
double first_eigenvalue_per_m2(const Gridded& solid) {
  return squared(pi / solid.slowest_mode.in_m());
}
double tension_thickness_m(const Gridded& solid) {
  return solid.permanent_tension.in_m();
}

}  // namespace

double poisson_maximum_m2(const Shape& shape) {
  return std::visit([](const auto& s) { return maximum_m2(s); }, shape);
}

EquivalentSlabs equivalent_slabs(const Shape& shape) {
  // a slab has u = d^2 / 8 and lambda = (pi / d)^2
  const double difference_m = std::sqrt(8.0 * poisson_maximum_m2(shape));
  const double mode_m =
      pi / std::sqrt(std::visit([](const auto& s) { return first_eigenvalue_per_m2(s); }, shape));
  const double tension_m = std::visit([](const auto& s) { return tension_thickness_m(s); }, shape);
  return {Length::from_m(difference_m), Length::from_m(mode_m), Length::from_m(tension_m)};
}

}  // namespace thickset

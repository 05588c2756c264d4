#pragma once

#include "geometry/shape.h"

/// A long tube: the section between two circles, cooled outside, and inside unless that lies
/// against a core.
///
/// In:     0 < inner_m < outer_m, the radii.
/// Error:  rounding, which grows as the tube gets thinner: 1e-7 relative at a wall of a five
///         hundredth of the radius.
/// Throws: nothing; sizes are asserted.
/// Source: [CJ59] chapter 7 (u, modes), [TG70] chapter 13 (hollow cylinder, free ends);
///         notes/conduction.md#tubes.
namespace thickset::annulus {

struct Radii {
  double inner_m, outer_m;
};
Radii radii(const Tube& tube);

/// Of -Laplace(u) = 1 with u = 0 on what is cooled and du/dn = 0 on a core.
double u_m2(const Radii& radii, Inside inside, double r_m);
double largest_m2(const Radii& radii, Inside inside);
double mean_m2(const Radii& radii, Inside inside);

/// Smallest of -Laplace(u) = eigenvalue u, same surface.
double first_eigenvalue_per_m2(const Radii& radii, Inside inside);

/// Largest permanent tension anywhere, in units of E alpha R / (diffusivity (1 - nu)): a slab has
/// d^2 / 24. Along the tube or round it, whichever is more.
double permanent_tension_m2(const Radii& radii, Inside inside);

}  // namespace thickset::annulus

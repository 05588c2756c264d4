#pragma once

/// Largest value u of -Laplace(u) = 1 inside, u = 0 on the surface, in m2. Steady cooling at rate R
/// gives centre - surface = R u / diffusivity.
///
/// In:     full sides, diameters and heights > 0, in any order; infinity is not allowed.
/// Error:  below 1e-12 relative: every series is written along the direction in which it falls off
///         at least like exp(-pi n / 2), so a dozen terms do at any aspect ratio.
/// Throws: nothing; signs are asserted.
/// Source: [CJ59] (slab, cylinder, sphere by direct integration), [TG70] chapter 10 (rectangle, by
///         the analogy with torsion); derived in notes/conduction.md#equivalent-slabs.
namespace thickset::poisson {

double slab_maximum_m2(double thickness_m);
double rod_maximum_m2(double diameter_m);
double ball_maximum_m2(double diameter_m);
double rectangle_maximum_m2(double side_1_m, double side_2_m);
double block_maximum_m2(double side_1_m, double side_2_m, double side_3_m);
double disc_maximum_m2(double diameter_m, double height_m);
double triangle_maximum_m2(double side_m);  ///< equilateral

/// Slab between two walls, u + wall du/dn = 0 on each face. In: thickness > 0; walls >= 0, 0 where
/// exposed, infinity where insulated. Out: infinity where both are.
/// Source: integrated directly; notes/field.md#thick-beside-thin.
double walled_slab_maximum_m2(double thickness_m, double wall_m, double other_wall_m);

}  // namespace thickset::poisson

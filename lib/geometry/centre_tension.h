#pragma once

/// Thickness of the slab, cooled from both faces, that keeps the same permanent tension at its
/// centre: d with s = d^2 / 24, s the largest principal stress at the centre in units of
/// E alpha R / (kappa (1 - nu)) after steady cooling at rate R and evening out.
///
/// In:     full sides, diameters and heights > 0, in any order; a side may be infinite.
/// Out:    not monotone: a square bar has 0.953 of its side, one of 1 x 2 1.137, a slab 1. The cool
///         edges of plates and bars stretch their middle; 1.15 of the smallest side is the most.
/// Error:  rod and ball exact; the others interpolate a computed table, within 0.5 % of values
///         computed between its points. Poisson ratio 0.22; 0.20 to 0.24 move it by 0.3 %.
///         Off centre the tension can be higher: in wide plates, see largest_in_block_m; elsewhere
///         by less than 1 % of the stress.
/// Throws: nothing; signs are asserted.
/// Source: rod and ball [TG70] chapter 13; tables computed from the equations of
///         elasticity, notes/stress.md#centre-tension.
namespace thickset::centre_tension {

double rod_slab_m(double diameter_m);
double ball_slab_m(double diameter_m);
double prism_slab_m(double side_m);  ///< long, equilateral
double bar_slab_m(double side_1_m, double side_2_m);
double block_slab_m(double side_1_m, double side_2_m, double side_3_m);
double disc_slab_m(double diameter_m, double height_m);

/// The same for the largest tension anywhere in a block: near the corners of a plate three times as
/// wide as thick or wider, where it is up to 18 % of the stress above the centre's. A cover over
/// the computed values: 0 to 2 % of the stress above them.
double largest_in_block_m(double side_1_m, double side_2_m, double side_3_m);

}  // namespace thickset::centre_tension

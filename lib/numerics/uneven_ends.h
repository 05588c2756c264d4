#pragma once

#include "numerics/lattice_problem.h"

namespace thickset {

/// Where a link ends nearer than a spacing, the links of its axis do not add up to a whole second
/// difference: the right side is too large there by a share of what that axis passes.
///
/// In:     u, a solution of the problem with right side b of -Laplace(u) = const.
/// Out:    change, to be added to b (0 elsewhere than at ends): a solution with it has second
///         differences of second order along the surface too. Quadratic u comes out nearly exact.
/// Error:  takes u as the first solution has it; a second round changes nothing that matters.
/// Throws: nothing.
/// Source: [SW38] for the uneven second difference, here moved to the right side so that the matrix
///         stays symmetric; notes/field.md#uneven-ends.
void change_at_ends(const LatticeProblem& problem, const double* u, float* change);

}  // namespace thickset

#include "conduction/node_loops.h"

#include <cmath>

#include "numerics/lanes.h"

namespace thickset::conduction::nodes {

THICKSET_FOUR_AT_ONCE
void sum_increments(Index n,
                    const double* __restrict increments,
                    const double* __restrict first_weight,
                    const double* __restrict second_weight,
                    const double* __restrict base,
                    double* __restrict first,
                    double* __restrict second) {
  for (Index i = 0; i < n; ++i) {
    double one = base[i];
    double two = 0.0;
    for (int j = 0; j < summed; ++j) {
      one += first_weight[j] * increments[j * n + i];
      two += second_weight[j] * increments[j * n + i];
    }
    first[i] = one;
    second[i] = two;
  }
}

THICKSET_FOUR_AT_ONCE
void find_properties(Index n,
                     Pieces pieces,
                     const double* __restrict T_K,
                     double* __restrict by_capacity_kg_K_per_J,
                     double* __restrict bend_per_K,
                     double* __restrict flow_per_enthalpy,
                     double* __restrict kirchhoff_W_per_m,
                     double* __restrict missed) {
  const ThermalLaw::Piece cp = pieces.capacity.piece;
  const ThermalLaw::Piece k = pieces.conductivity.piece;
  for (Index i = 0; i < n; ++i) {
    const double T = T_K[i];
    const double inverse = 1.0 / T;
    const double by_cp = 1.0 / (cp.a + cp.b * T + cp.c * inverse * inverse);
    by_capacity_kg_K_per_J[i] = by_cp;
    bend_per_K[i] = 0.5 * by_cp * (cp.b - 2.0 * cp.c * inverse * inverse * inverse);
    flow_per_enthalpy[i] = (k.a + k.b * T + k.c * inverse * inverse) * by_cp;
    kirchhoff_W_per_m[i] = pieces.conductivity.offset + (k.a + 0.5 * k.b * T) * T - k.c * inverse;
    missed[i] = pieces.cover(T) ? 0.0 : 1.0;
  }
}

THICKSET_FOUR_AT_ONCE
void find_temperatures(Index n,
                       Pieces pieces,
                       Start start,
                       const double* __restrict enthalpy_J_per_kg,
                       double largest_K,
                       double* __restrict T_K,
                       double* __restrict kirchhoff_W_per_m,
                       double* __restrict missed) {
  const ThermalLaw::Piece cp = pieces.capacity.piece;
  const ThermalLaw::Piece k = pieces.conductivity.piece;
  for (Index i = 0; i < n; ++i) {
    const double linear_K =
        (enthalpy_J_per_kg[i] - start.enthalpy_J_per_kg[i]) * start.by_capacity_kg_K_per_J[i];
    const double guess_K = start.T_K[i] + linear_K * (1.0 - start.bend_per_K[i] * linear_K);
    const double inverse = 1.0 / guess_K;
    const double capacity = cp.a + cp.b * guess_K + cp.c * inverse * inverse;
    const double guessed =
        pieces.capacity.offset + (cp.a + 0.5 * cp.b * guess_K) * guess_K - cp.c * inverse;
    const double change_K = (enthalpy_J_per_kg[i] - guessed) / capacity;
    const double T = guess_K + change_K;
    T_K[i] = T;
    kirchhoff_W_per_m[i] =
        pieces.conductivity.offset + (k.a + 0.5 * k.b * T) * T -
        k.c * inverse * (1.0 - change_K * inverse);  // 1/T, right to the square of the change
    missed[i] = std::abs(change_K) <= largest_K && pieces.cover(T) ? 0.0 : 1.0;
  }
}

THICKSET_FOUR_AT_ONCE
void balance(Index n,
             const double* __restrict gap_per_m,
             const double* __restrict kirchhoff_W_per_m,
             Rows mass,
             const double* __restrict past,
             double* __restrict into_W_per_m2) {
  for (Index i = 0; i < n; ++i) {
    into_W_per_m2[i] =
        gap_per_m[i + 1] * (kirchhoff_W_per_m[i + 1] - kirchhoff_W_per_m[i]) -
        gap_per_m[i] * (kirchhoff_W_per_m[i] - kirchhoff_W_per_m[i - 1]) +
        (mass.lower[i] * past[i - 1] + mass.diagonal[i] * past[i] + mass.upper[i] * past[i + 1]);
  }
}

THICKSET_FOUR_AT_ONCE
void build_matrix(Index n,
                  const double* __restrict gap_per_m,
                  const double* __restrict flow_per_enthalpy,
                  Rows mass,
                  double per_s,
                  double* __restrict lower,
                  double* __restrict diagonal,
                  double* __restrict upper) {
  for (Index i = 0; i < n; ++i) {
    lower[i] = mass.lower[i] * per_s - gap_per_m[i] * flow_per_enthalpy[i - 1];
    diagonal[i] =
        mass.diagonal[i] * per_s + (gap_per_m[i] + gap_per_m[i + 1]) * flow_per_enthalpy[i];
    upper[i] = mass.upper[i] * per_s - gap_per_m[i + 1] * flow_per_enthalpy[i + 1];
  }
}

}  // namespace thickset::conduction::nodes

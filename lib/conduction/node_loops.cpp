#include "conduction/node_loops.h"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "numerics/lanes.h"

namespace thickset::conduction::nodes {

THICKSET_FOUR_AT_ONCE
void sum_increments(Index fours,
                    const double* __restrict increments,
                    const double* __restrict first_weight,
                    const double* __restrict second_weight,
                    const double* __restrict base,
                    double* __restrict first,
                    double* __restrict second) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < fours * lanes; ++i) {
    double one = base[i];
    double two = 0.0;
    for (int j = 0; j < summed; ++j) {
      one += first_weight[j] * increments[j * fours * lanes + i];
      two += second_weight[j] * increments[j * fours * lanes + i];
    }
    first[i] = one;
    second[i] = two;
  }
}

void Pieces::follow(const ThermalLaw& law, Index first, Index count, const Eigen::ArrayXd& T_K) {
  const PieceColumns now = columns();
  for (Index node = first; node < first + count; ++node) {
    if (now.cover(node, T_K(node))) continue;
    const ThermalLaw::WholePiece& whole = law.piece_at(T_K(node));
    const ThermalLaw::Piece& piece = whole.piece;
    values_.row(node) << piece.from_K, piece.to_K, piece.a, piece.b, piece.c, whole.offset;
  }
}

THICKSET_FOUR_AT_ONCE
void find_properties(Index fours,
                     const PieceColumns& capacity,
                     const PieceColumns& conductivity,
                     const double* __restrict T_K,
                     double* __restrict by_capacity_kg_K_per_J,
                     double* __restrict bend_per_K,
                     double* __restrict flow_per_enthalpy,
                     double* __restrict kirchhoff_W_per_m) {
  const PieceColumns cp = capacity;
  const PieceColumns k = conductivity;
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < fours * lanes; ++i) {
    const double T = T_K[i];
    const double inverse = 1.0 / T;
    const double by_cp = 1.0 / (cp.a[i] + cp.b[i] * T + cp.c[i] * inverse * inverse);
    by_capacity_kg_K_per_J[i] = by_cp;
    bend_per_K[i] = 0.5 * by_cp * (cp.b[i] - 2.0 * cp.c[i] * inverse * inverse * inverse);
    flow_per_enthalpy[i] = (k.a[i] + k.b[i] * T + k.c[i] * inverse * inverse) * by_cp;
    kirchhoff_W_per_m[i] = k.offset[i] + (k.a[i] + 0.5 * k.b[i] * T) * T - k.c[i] * inverse;
  }
}

THICKSET_FOUR_AT_ONCE
bool find_temperatures(Index fours,
                       const PieceColumns& capacity,
                       const PieceColumns& conductivity,
                       const Start& start,
                       const double* __restrict enthalpy_J_per_kg,
                       double largest_K,
                       double* __restrict T_K,
                       double* __restrict kirchhoff_W_per_m,
                       std::int64_t* __restrict missed) {
  const PieceColumns cp = capacity;
  const PieceColumns k = conductivity;
  const Start at = start;
  std::int64_t misses = 0;
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < fours * lanes; ++i) {
    const double linear_K =
        (enthalpy_J_per_kg[i] - at.enthalpy_J_per_kg[i]) * at.by_capacity_kg_K_per_J[i];
    const double guess_K = at.T_K[i] + linear_K * (1.0 - at.bend_per_K[i] * linear_K);
    const double inverse = 1.0 / guess_K;
    const double guess_cp = cp.a[i] + cp.b[i] * guess_K + cp.c[i] * inverse * inverse;
    const double guessed_J_per_kg =
        cp.offset[i] + (cp.a[i] + 0.5 * cp.b[i] * guess_K) * guess_K - cp.c[i] * inverse;
    const double change_K = (enthalpy_J_per_kg[i] - guessed_J_per_kg) / guess_cp;
    const double T = guess_K + change_K;
    const double inverse_T = inverse * (1.0 - change_K * inverse);  // to the square of the change
    T_K[i] = T;
    kirchhoff_W_per_m[i] = k.offset[i] + (k.a[i] + 0.5 * k.b[i] * T) * T - k.c[i] * inverse_T;
    const double from_K = std::max(cp.from_K[i], k.from_K[i]);
    const double to_K = std::min(cp.to_K[i], k.to_K[i]);
    const bool miss = !(std::abs(change_K) <= largest_K && T >= from_K && T < to_K);
    missed[i] = miss;
    misses |= missed[i];
  }
  return misses == 0;
}

THICKSET_FOUR_AT_ONCE
void balance(Index fours,
             const double* __restrict gap_per_m,
             const double* __restrict kirchhoff_W_per_m,
             Rows mass,
             const double* __restrict past,
             double* __restrict into_W_per_m2) {
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < fours * lanes; ++i) {
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
  THICKSET_ROUNDS_APART
  for (Index i = 0; i < n; ++i) {
    lower[i] = mass.lower[i] * per_s - gap_per_m[i] * flow_per_enthalpy[i - 1];
    diagonal[i] =
        mass.diagonal[i] * per_s + (gap_per_m[i] + gap_per_m[i + 1]) * flow_per_enthalpy[i];
    upper[i] = mass.upper[i] * per_s - gap_per_m[i + 1] * flow_per_enthalpy[i + 1];
  }
}

}  // namespace thickset::conduction::nodes

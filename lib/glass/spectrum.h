#pragma once

#include <array>
#include <numeric>

namespace thickset {

/// Relaxation of one soda-lime glass as published: six terms each of shear, bulk and structure,
/// with their times at 869 K. Other glasses use its shape with their own mean times.
///
/// Source: [CARRE99] table of six terms at 869 K; weights of the structure are C_i, of the shear
/// G_i / sum G_i; bulk K_i with K_inf = 0.18 K_0. Identities that hold and are tested: the shear
/// moduli sum to E/(2(1+nu)) and the bulk moduli to E/(3(1-2nu)) for E 70 GPa, nu 0.22; mean shear
/// time 1.000 s, mean structural time 9.00 s.
struct RelaxationSpectrum {
  static constexpr int terms = 6;
  using Terms = std::array<double, terms>;

  Terms shear_GPa = {1.5845, 2.3539, 3.4857, 6.5582, 8.2049, 6.4980};
  Terms shear_s = {6.658e-5, 1.197e-3, 1.514e-2, 1.672e-1, 7.497e-1, 3.292e+0};
  Terms bulk_GPa = {0.7588, 0.7650, 0.9806, 7.301, 13.47, 10.896};
  Terms bulk_s = {5.009e-5, 9.945e-4, 2.022e-3, 1.925e-2, 1.199e-1, 2.033e+0};
  double bulk_forever_GPa = 7.5;
  Terms structure = {5.523e-2, 8.205e-2, 1.215e-1, 2.286e-1, 2.860e-1, 2.265e-1};
  Terms structure_s = {5.965e-4, 1.077e-2, 1.362e-1, 1.505e+0, 6.747e+0, 2.963e+1};

  /// 0.99988 as printed; the terms are used over their sum.
  double structure_sum() const { return std::accumulate(structure.begin(), structure.end(), 0.0); }
};

}  // namespace thickset

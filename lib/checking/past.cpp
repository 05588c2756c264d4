#include "checking/past.h"

#include <algorithm>
#include <cmath>

namespace thickset {

double left_by_past_Pa(const Glass& glass, const History::Row& row) {
  const double biaxial_modulus_Pa =
      glass.youngs_modulus_Pa.value / (1.0 - glass.poisson_ratio.value);
  const double structural_per_K = glass.liquid_expansion_per_K.value - glass.expansion_per_K.value;
  const double uneven_K =
      (row.centre_fictive_K - row.centre_K) - (row.surface_fictive_K - row.surface_K);
  return std::max(std::abs(row.surface_Pa), std::abs(row.centre_Pa)) +
         biaxial_modulus_Pa * structural_per_K * std::abs(uneven_K);
}

double off_equilibrium_K(const History::Row& row) {
  return std::max(std::abs(row.centre_fictive_K - row.centre_K),
                  std::abs(row.surface_fictive_K - row.surface_K));
}

bool has_relaxed(const Glass& glass, const History::Row& row, double permanent_Pa) {
  return off_equilibrium_K(row) <= equilibrium_tol_K &&
         left_by_past_Pa(glass, row) <= relaxed_share * permanent_Pa;
}

}  // namespace thickset

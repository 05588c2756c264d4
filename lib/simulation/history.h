#pragma once

#include <vector>

namespace thickset {

/// What the glass went through, at the end of each time step of the solver.
struct History {
  struct Row {
    double time_s;
    double kiln_K;
    double surface_K;
    double centre_K;
    double mean_K;
    double largest_difference_K;  ///< of |centre - surface| within the time step that ends here
    // Elastic stress of this moment's temperatures, as if nothing relaxed:
    double surface_stress_Pa;  ///< in the surface, tension positive
    double tension_Pa;         ///< largest tension anywhere
    double compression_Pa;     ///< largest compression anywhere, positive: reversed, it is the
                               ///< tension that stays when this gradient is set
    int step;                  ///< of the program; -1 before it, its number of steps after it
  };
  std::vector<Row> rows;
  double heat_balance_error = 0.0;

  double end_s() const { return rows.back().time_s; }
};

}  // namespace thickset

#pragma once

#include <algorithm>
#include <vector>

namespace thickset {

/// What the glass went through, at the end of each time step of the solver.
struct History {
  struct Row {
    double time_s;
    double kiln_K;
    double surface_K;  ///< of the glass; where the faces of a slab differ, of the one that cools
                       ///< better
    double centre_K;   ///< of the slowest glass: the centre, but where the faces of a slab differ
    double mean_K;     ///< of the glass
    double largest_difference_K;  ///< of |centre - surface| within the time step that ends here
    // Stress with relaxation of structure, shear and bulk, tension positive:
    double surface_Pa;  ///< in the plane of the surface
    double centre_Pa;   ///< largest at the centre or mid-plane
    double tension_Pa;  ///< largest anywhere
    double surface_fictive_K;
    double centre_fictive_K;
    // Elastic stress of this moment's temperatures, as if nothing relaxed, for the estimate:
    double elastic_surface_Pa;      ///< in the surface
    double elastic_compression_Pa;  ///< largest compression anywhere, positive: reversed, it is the
                                    ///< tension that stays when this gradient is set
    double staying_Pa;       ///< what would stay at the centre, of a rod along it, if temperatures
                             ///< evened out at once: the stress less the elastic one
    double curvature_per_m;  ///< of a slab free to bend, since the start, below 0 where the face
                             ///< that cools better is hollow; else 0
    int step;                ///< of the program; -1 before it, its number of steps after it
  };
  std::vector<Row> rows;
  double heat_balance_error = 0.0;
  double net_stress_Pa = 0.0;  ///< largest mean stress over a section at any time: should be zero

  /// Through the thickness at the end, from the inside out; where the faces of a slab differ, from
  /// the one that cools worse.
  struct Profile {
    std::vector<double> position_m, stress_Pa, fictive_K;
  };
  Profile profile;

  double end_s() const { return rows.back().time_s; }
  /// The first row at or after a time; the last one where there is none.
  const Row& at(double time_s) const;
};

inline const History::Row& History::at(double time_s) const {
  constexpr double same_s = 1e-6;  // times that differ by less are one
  const auto row = std::lower_bound(
      rows.begin(), rows.end(), time_s - same_s, [](const Row& earlier, double limit_s) {
        return earlier.time_s < limit_s;
      });
  return row == rows.end() ? rows.back() : *row;
}

}  // namespace thickset

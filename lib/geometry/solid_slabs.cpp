#include "geometry/solid_slabs.h"

#include <algorithm>
#include <cmath>

namespace thickset {
namespace {

double change(Length coarse, Length fine) {
  return std::abs(coarse.in_m() / fine.in_m() - 1.0);
}

/// At the hottest place, by its interpolation and its change of grid, unless it is larger
/// elsewhere.
SolidSlabs::Largest largest_of(const PermanentTension& tension) {
  constexpr double elsewhere = 1.1;
  const Length slab = Length::from_m(std::sqrt(24.0 * std::max(tension.largest_m2, 0.0)));
  const bool near_hottest = tension.largest_m2 < elsewhere * tension.at_hottest_m2;
  const double of_stress = near_hottest ? tension.uncertainty : tension.largest_uncertainty;
  return {slab, 0.5 * of_stress};  // the stress goes with the square
}

}  // namespace

SolidSlabs solid_slabs(const Region& region,
                       const CoolingAt& cooling_at,
                       const SolidSettings& settings,
                       const Progress& progress) {
  CoolingField coarse{region, cooling_at, {settings.field_cells / 8.0}, progress};
  CoolingField field{region, cooling_at, {settings.field_cells}, progress};
  const CoolingField::Mode coarse_mode = coarse.slowest_mode(progress);
  const CoolingField::Mode mode = field.slowest_mode(progress);
  const PermanentTension tension =
      permanent_tension(region,
                        cooling_at,
                        {.cells = settings.tension_cells, .poisson_ratio = settings.poisson_ratio},
                        progress);
  const Length difference = field.steady_difference_slab();
  return {.slabs = {difference, mode.slab, tension.slab},
          .uncertainty = {change(coarse.steady_difference_slab(), difference),
                          change(coarse_mode.slab, mode.slab),
                          0.5 * tension.uncertainty},  // the stress goes with the square
          .hottest_m = field.hottest_m(),
          .largest_tension_share = tension.largest_m2 / tension.at_hottest_m2,
          .largest_tension = largest_of(tension),
          .thick_beside_thin = field.thick_beside_thin(),
          .mean_share = field.mean_m2() / field.largest_m2(),
          .volume_m3 = field.volume_m3(),
          .cells_across = field.cells_across(),
          .unresolved = field.unresolved()};
}

}  // namespace thickset

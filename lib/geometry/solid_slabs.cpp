#include "geometry/solid_slabs.h"

#include <cmath>

namespace thickset {
namespace {

double change(Length coarse, Length fine) {
  return std::abs(coarse.in_m() / fine.in_m() - 1.0);
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
                          0.5 * tension.uncertainty,  // the stress goes with the square
                          0.5 * tension.largest_uncertainty},
          .largest_tension = Length::from_m(std::sqrt(24.0 * tension.largest_m2)),
          .hottest_m = field.hottest_m(),
          .largest_tension_share = tension.largest_m2 / tension.at_hottest_m2,
          .thick_beside_thin = field.thick_beside_thin(),
          .mean_share = field.mean_m2() / field.largest_m2(),
          .volume_m3 = field.volume_m3(),
          .cells_across = field.cells_across(),
          .unresolved = field.unresolved()};
}

}  // namespace thickset

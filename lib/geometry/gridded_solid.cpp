#include "geometry/gridded_solid.h"

#include <algorithm>
#include <cmath>

namespace thickset {
namespace {

Length thicker(Length slab, double by) {
  return Length::from_m(slab.in_m() * (1.0 + by));
}

/// The slab with the permanent tension where hottest, u_max - mean u, of a solid that cannot bend.
Length held_slab(const SolidSlabs& on_grid) {
  return Length::from_m(on_grid.slabs.steady_difference.in_m() *
                        std::sqrt(3.0 * (1.0 - on_grid.mean_share)));
}

/// What the exposed surface of such a solid pulls, mean u, over that of its slab, 2/3 of u_max.
double held_surface_factor(const SolidSlabs& on_grid) {
  return std::max(1.0, 1.5 * on_grid.mean_share);
}

}  // namespace

GriddedSolid gridded_solid(const Region& region,
                           const CoolingAt& cooling_at,
                           const SolidMeasures& known,
                           const SolidSettings& settings,
                           const Progress& progress) {
  const Region::Box box = region.bounds_m();
  if (progress) progress("temperature field of the solid");
  const SolidSlabs on_grid = solid_slabs(region, cooling_at, settings, progress);
  const SolidSlabs::Uncertainty& off = on_grid.uncertainty;
  const Length at_hottest = thicker(on_grid.slabs.permanent_tension, off.permanent_tension);
  const Length anywhere = thicker(on_grid.largest_tension, off.largest_tension);
  const Length free = std::max(at_hottest, anywhere);
  const double slab_m = on_grid.slabs.steady_difference.in_m();
  const double ball_m = 2.0 * known.ball_radius_m;
  const double largest_u_m2 = slab_m * slab_m / 8.0;
  const CoolingField::ThickBesideThin& side = on_grid.thick_beside_thin;
  return {.shape = {.measures = known.words,
                    .remark = known.remark,
                    .cools_inside = false,
                    .ball = Length::from_m(ball_m),
                    .volume_to_surface = Length::from_m(known.volume_m3 / known.cooled_m2),
                    .growth = known.growth,
                    .steady_difference =
                        thicker(on_grid.slabs.steady_difference, off.steady_difference),
                    .slowest_mode = thicker(on_grid.slabs.slowest_mode, off.slowest_mode),
                    .permanent_tension = known.held ? std::max(free, held_slab(on_grid)) : free,
                    .surface_factor = known.held ? held_surface_factor(on_grid) : 1.0},
          .box_m = box.high_m - box.low_m,
          .volume_m3 = known.volume_m3,
          .surface_m2 = known.surface_m2,
          .ball_centre_m = known.ball_centre_m - box.low_m,
          .hottest_m = on_grid.hottest_m - box.low_m,
          .shape_factor = slab_m * slab_m / (ball_m * ball_m),
          .uncertainty = {off.steady_difference,
                          off.slowest_mode,
                          anywhere > at_hottest ? off.largest_tension : off.permanent_tension},
          .largest_tension_share = on_grid.largest_tension_share,
          .thick_beside_thin = {.share = side.excess_m2 / largest_u_m2,
                                .place_m = side.place_m - box.low_m,
                                .thickness = side.thickness,
                                .acts_as = side.acts_as},
          .unresolved = on_grid.unresolved,
          .notes = {}};
}

}  // namespace thickset

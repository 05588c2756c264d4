#include "simulation/steady_cooling.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "conduction/face.h"
#include "conduction/joint.h"
#include "geometry/area_growth.h"

namespace thickset {
namespace {

using conduction::AreaOutward;

/// A wall seen from the glass: its surface is above the kiln by R (q + own), q the heat that a rate
/// of 1 K/s brings from the glass: drop = q resistance + own_drop, over the glass's surface.
struct Side {
  double resistance_m2_K_per_W = 0.0;
  double own_drop_s = 0.0;
  double own_heat_J_per_m2_K = 0.0;
  bool insulated = false;
};

Side side_of(const Wall& wall, const AreaOutward& area, const Exchange& exchange, double T_K) {
  constexpr int slices = 20;
  Side side{.insulated = wall.insulated};
  double from_m = 0.0;
  const auto pass = [&](double resistance) {
    side.resistance_m2_K_per_W += resistance;
    side.own_drop_s += resistance * side.own_heat_J_per_m2_K;
  };
  const double radiation =
      4.0 * stefan_boltzmann_W_per_m2_K4 * T_K * T_K * T_K;  // for an emissivity of 1
  for (const Layer& layer : wall.layers) {
    const double thickness_m = layer.thickness.in_m();
    if (layer.kind == Layer::Kind::contact) {
      pass(layer.resistance_m2_K_per_W / area.at(from_m));
    } else if (layer.kind == Layer::Kind::air) {
      const double passes = conduction::air_conductivity_W_per_m_K().at(T_K) / thickness_m +
                            conduction::gap_emissivity * radiation;
      pass(1.0 / (passes * area.at(from_m + 0.5 * thickness_m)));
    } else {
      const double conductivity = layer.material->conductivity_W_per_m_K.at(T_K);
      const double heat =
          layer.material->density_kg_per_m3 * layer.material->heat_capacity_J_per_kg_K.at(T_K);
      const double slice_m = thickness_m / slices;
      for (int i = 0; i < slices; ++i) {
        const double middle = area.at(from_m + (i + 0.5) * slice_m);
        side.own_heat_J_per_m2_K += 0.5 * heat * middle * slice_m;
        pass(slice_m / (conductivity * middle));
        side.own_heat_J_per_m2_K += 0.5 * heat * middle * slice_m;
      }
    }
    from_m += thickness_m;
  }
  if (!wall.insulated) {
    const double film = exchange.film_coefficient_W_per_m2_K + exchange.emissivity * radiation;
    pass(1.0 / (film * area.at(from_m)));
  }
  return side;
}

/// A slab of unlike faces; `other` cools worse, or is to be found to cool better.
///
/// The temperature is a parabola whose slope is zero at x from the other face, so that rho c x R
/// leaves by that face; x is negative where a heavy wall gives heat to the glass. Both ways to the
/// kiln have the same drop:
///   rho c x^2 / (2k) + rho c x R_o + W_o = rho c (d - x)^2 / (2k) + rho c (d - x) R + W.
SteadyCooling of_slab(double thickness_m,
                      double conductivity,
                      double heat_J_per_m3_K,
                      const Side& other,
                      const Side& better) {
  double x_m = 0.0;
  if (better.insulated) {
    x_m = thickness_m;  // the other way round
  } else if (other.insulated) {
    x_m = -other.own_heat_J_per_m2_K / heat_J_per_m3_K;
  } else {
    x_m = (heat_J_per_m3_K * thickness_m *
               (0.5 * thickness_m / conductivity + better.resistance_m2_K_per_W) +
           better.own_drop_s - other.own_drop_s) /
          (heat_J_per_m3_K * (thickness_m / conductivity + better.resistance_m2_K_per_W +
                              other.resistance_m2_K_per_W));
  }
  const double width_m = thickness_m - x_m;
  const double outside_m = std::min(x_m, 0.0);
  return {.slowest_to_surface_s =
              0.5 * heat_J_per_m3_K / conductivity * (width_m * width_m - outside_m * outside_m),
          .surface_to_kiln_s =
              heat_J_per_m3_K * width_m * better.resistance_m2_K_per_W + better.own_drop_s,
          .slowest_from_other_m = std::max(x_m, 0.0),
          .level_from_other_m = x_m};
}

}  // namespace

PlaneWall plane_wall(const Wall& wall, const Exchange& exchange, Temperature at) {
  const Side side = side_of(wall, {}, exchange, at.in_K());
  return {.resistance_m2_K_per_W = side.resistance_m2_K_per_W,
          .own_drop_s = side.own_drop_s,
          .own_heat_J_per_m2_K = side.own_heat_J_per_m2_K};
}

SteadyCooling steady_cooling(const Casting& casting, const Exchange& exchange, Temperature at) {
  const double T_K = at.in_K();
  const Glass& glass = casting.glass;
  const Shape shape = casting.governing_shape();
  const double conductivity = glass.conductivity_W_per_m_K.value.at(T_K);
  const double heat = glass.density_kg_per_m3.value * glass.heat_capacity_J_per_kg_K.value.at(T_K);
  const Walls walls = casting.walls.value_or(Walls{});
  if (!walls.alike()) {
    const double thickness_m = std::get<Slab>(shape).thickness.in_m();
    const Side top = side_of(walls.top, {}, exchange, T_K);
    const Side bottom = side_of(walls.bottom, {}, exchange, T_K);
    SteadyCooling steady = of_slab(thickness_m, conductivity, heat, bottom, top);
    if (steady.level_from_other_m > 0.5 * thickness_m) {
      steady = of_slab(thickness_m, conductivity, heat, top, bottom);
      steady.top_cools_better = false;
    }
    return steady;
  }
  // Over the shape's surface the glass gives rho c V/S; its wall grows as the shape's does.
  const AreaGrowth growth = area_growth(shape);
  const Side side =
      side_of(walls.top, {.per_m = growth.per_m, .per_m2 = growth.per_m2}, exchange, T_K);
  return {.slowest_to_surface_s = thickset::poisson_maximum_m2(shape) * heat / conductivity,
          .surface_to_kiln_s = heat * volume_to_surface(shape).in_m() * side.resistance_m2_K_per_W +
                               side.own_drop_s};
}

EquivalentSlabs equivalent_slabs(const Casting& casting) {
  const Shape shape = casting.governing_shape();
  if (!casting.walls || casting.walls->alike()) return equivalent_slabs(shape);
  const double d_m = std::get<Slab>(shape).thickness.in_m();
  const SteadyCooling steady = steady_cooling(casting, {}, casting.glass.strain_point.value);
  const double off_middle_m = 0.5 * d_m - steady.level_from_other_m;
  const double outside_m = std::min(steady.level_from_other_m, 0.0);
  const Length difference = Length::from_m(std::sqrt(8.0 * poisson_maximum_m2(casting)));
  const double held_m =
      std::sqrt(d_m * d_m + 12.0 * (off_middle_m * off_middle_m - outside_m * outside_m));
  return {.steady_difference = difference,
          .slowest_mode = difference,
          .permanent_tension = Length::from_m(casting.walls->held ? held_m : d_m)};
}

double poisson_maximum_m2(const Casting& casting) {
  const Shape shape = casting.governing_shape();
  if (!casting.walls || casting.walls->alike()) return poisson_maximum_m2(shape);
  const Temperature at = casting.glass.strain_point.value;
  return steady_cooling(casting, {}, at).slowest_to_surface_s *
         casting.glass.diffusivity_m2_per_s(at.in_K());
}

}  // namespace thickset

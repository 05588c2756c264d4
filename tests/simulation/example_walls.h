#pragma once

#include "checking/example_casting.h"
#include "simulation/simulate.h"

/// Castings in moulds, and runs of them, for tests.
namespace thickset::example {

/// 0.35 W/(m K), 1100 kg/m3, 1000 J/(kg K): the shipped plaster-silica.
inline Wall plaster(double thickness_mm) {
  if (thickness_mm <= 0.0) return {};
  return {.layers = {Layer::solid(read_mould(data_path("moulds/plaster-silica.mould")),
                                  Length::from_mm(thickness_mm))}};
}

inline Casting in_plaster(Casting casting, double thickness_mm) {
  if (thickness_mm > 0.0) {
    casting.walls = Walls{.top = plaster(thickness_mm), .bottom = plaster(thickness_mm)};
  }
  return casting;
}

/// An open mould: plaster below, nothing above.
inline Casting on_plaster(Casting casting, double thickness_mm, bool held) {
  casting.walls = Walls{.top = {}, .bottom = plaster(thickness_mm), .held = held};
  return casting;
}

/// Falls at 300 K/h from 900 to 300 C; h 10 W/(m2 K), emissivity 0.9.
inline Kiln fast_kiln() {
  const Rate fall = Rate::from_K_per_h(300.0);
  return {.name = "fast",
          .title = "kiln that falls at 300 K/h",
          .natural_cooling = NaturalCooling{{{Temperature::from_C(900.0), fall},
                                             {Temperature::from_C(300.0), fall}},
                                            Temperature::from_C(20.0)},
          .film_coefficient_W_per_m2_K = 10.0,
          .emissivity = 0.9,
          .assumed = {}};
}

/// The kiln at one rate from one temperature to another, and there for long.
inline AirCurve at_one_rate(double from_C, double to_C, double rate_K_per_h, double then_h) {
  const double fall_s = (from_C - to_C) / rate_K_per_h * 3600.0;
  return {.corners = {{0.0, from_C + 273.15, 0},
                      {fall_s, to_C + 273.15, 0},
                      {fall_s + 3600.0 * then_h, to_C + 273.15, 1}}};
}

}  // namespace thickset::example

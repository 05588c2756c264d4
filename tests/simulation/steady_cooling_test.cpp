#include "simulation/steady_cooling.h"

#include <cmath>
#include <vector>

#include <doctest/doctest.h>

#include "simulation/example_walls.h"

using namespace thickset;
using namespace thickset::example;

namespace {

constexpr double rate_K_per_h = 0.5;  // properties stay those of one temperature
constexpr double from_C = 500.0;

struct Lags {
  double slowest_to_surface_s, behind_kiln_s;
  double end_C;
};

/// Of the simulation, after a fall that is long against them; for the heat balance too.
Lags simulated(const Casting& casting, double fall_h) {
  const double rate_K_per_s = rate_K_per_h / 3600.0;
  const double to_C = from_C - rate_K_per_h * fall_h;
  AirCurve air = at_one_rate(from_C, to_C, rate_K_per_h, 1.0);
  air.corners.pop_back();
  const History history =
      simulate(casting, fast_kiln(), air, Temperature::from_C(from_C), Respect::steady_difference);
  const History::Row& end = history.rows.back();
  CHECK(history.heat_balance_error <= 1e-10);
  return {(end.centre_K - end.surface_K) / rate_K_per_s,
          (end.centre_K - end.kiln_K) / rate_K_per_s,
          to_C};
}

/// Closed form against simulation.
void check_steady(const Casting& casting) {
  constexpr double closed_form = 0.01;  // properties and radiation taken at one temperature
  CAPTURE(describe(casting.shape, Lengths::millimetre));
  const Exchange exchange = Exchange::with(fast_kiln());
  const double about_h =
      steady_cooling(casting, exchange, Temperature::from_C(from_C)).behind_kiln_s() / 3600.0;
  const Lags lags = simulated(casting, 12.0 * about_h);
  const SteadyCooling steady = steady_cooling(
      casting, exchange, Temperature::from_C(lags.end_C + 0.5 * rate_K_per_h * about_h));
  CHECK(std::abs(steady.slowest_to_surface_s / lags.slowest_to_surface_s - 1.0) <= closed_form);
  CHECK(std::abs(steady.behind_kiln_s() / lags.behind_kiln_s - 1.0) <= closed_form);
}

const std::vector<Shape> shapes = {
    Slab{Length::from_mm(75.0)},
    Rod{Length::from_mm(60.0)},
    Ball{Length::from_mm(90.0)},
    Block{Length::from_mm(60.0), Length::from_mm(60.0), Length::from_mm(120.0)},
    Disc{Length::from_mm(200.0), Length::from_mm(40.0)},
    Bar{Length::from_mm(60.0), Length::from_mm(90.0)},
    Prism{Length::from_mm(80.0)}};

}  // namespace

TEST_CASE("steady cooling: closed form and simulation agree, bare and in a mould, every shape") {
  for (const Shape& shape : shapes) {
    for (const double wall_mm : {0.0, 10.0, 40.0}) {
      CAPTURE(wall_mm);
      check_steady(in_plaster(of_shape(shape, "reference-516-480"), wall_mm));
    }
  }
}

TEST_CASE("steady cooling: layers, a gap and a poor contact in one wall") {
  Casting casting = of_shape(Rod{Length::from_mm(60.0)}, "reference-516-480");
  Wall wall = plaster(20.0);
  wall.layers.push_back(Layer::contact(0.02));
  wall.layers.push_back(plaster(10.0).layers.front());
  wall.layers.push_back(Layer::air(Length::from_mm(8.0)));
  wall.layers.push_back(plaster(15.0).layers.front());
  casting.walls = Walls{.top = wall, .bottom = wall};
  check_steady(casting);
}

TEST_CASE("steady cooling: unlike faces, open, insulated and layered, either way up") {
  const Casting bare = slab_of_mm(75.0, "reference-516-480");
  Wall insulated = plaster(25.0);
  insulated.insulated = true;
  for (const Wall& below :
       {plaster(25.0), plaster(60.0), insulated, Wall{.layers = {}, .insulated = true}}) {
    CAPTURE(describe(below, Lengths::millimetre));
    Casting casting = bare;
    casting.walls = Walls{.top = {}, .bottom = below};
    check_steady(casting);
    const SteadyCooling upright = steady_cooling(casting, {}, Temperature::from_C(from_C));
    CHECK(upright.top_cools_better);
    casting.walls = Walls{.top = below, .bottom = {}};
    check_steady(casting);
    const SteadyCooling over = steady_cooling(casting, {}, Temperature::from_C(from_C));
    CHECK_FALSE(over.top_cools_better);
    CHECK(std::abs(over.behind_kiln_s() - upright.behind_kiln_s()) <= 1e-6);
  }
}

TEST_CASE("an insulated face without layers is a slab with one cooled face") {
  Casting casting = slab_of_mm(75.0, "reference-516-480");
  for (const bool held : {true, false}) {
    casting.shape = Slab{Length::from_mm(75.0), held ? Faces::one_held : Faces::one_free};
    casting.walls = std::nullopt;
    const EquivalentSlabs one_face = equivalent_slabs(casting);
    casting.shape = Slab{Length::from_mm(75.0)};
    casting.walls = Walls{.top = {}, .bottom = {.layers = {}, .insulated = true}, .held = held};
    const EquivalentSlabs insulated = equivalent_slabs(casting);
    CHECK(std::abs(insulated.steady_difference.in_mm() - one_face.steady_difference.in_mm()) <=
          1e-9);
    CHECK(std::abs(insulated.permanent_tension.in_mm() - one_face.permanent_tension.in_mm()) <=
          1e-9);
  }
}

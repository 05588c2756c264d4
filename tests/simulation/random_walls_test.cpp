#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "simulation/example_walls.h"
#include "simulation/steady_cooling.h"

using namespace thickset;
using namespace thickset::example;

namespace {

const std::vector<std::string> materials = {"common-brick",
                                            "cordierite-shelf",
                                            "fibre-blanket",
                                            "fibre-board",
                                            "fireclay-brick",
                                            "insulating-firebrick",
                                            "plaster-sand",
                                            "plaster-silica",
                                            "silica-sand",
                                            "vermiculite-brick"};

/// Walls and castings by a fixed stream.
class Random {
 public:
  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(stream_()) / 4294967295.0);
  }
  /// As likely between 1 and 2 as between 10 and 20.
  double scaled(double low, double high) {
    return std::exp(between(std::log(low), std::log(high)));
  }
  std::size_t below(std::size_t count) {
    return std::min(static_cast<std::size_t>(between(0.0, static_cast<double>(count))), count - 1);
  }

  Wall wall() {
    Wall wall;
    for (std::size_t left = below(4); left > 0; --left) {
      if (below(3) == 0)
        wall.layers.push_back(Layer::air(Length::from_mm(scaled(0.1, 50.0))));
      else if (below(3) == 0)
        wall.layers.push_back(Layer::contact(scaled(1e-4, 0.1)));
      wall.layers.push_back(
          Layer::solid(read_mould(data_path("moulds/" + materials[below(10)] + ".mould")),
                       Length::from_mm(scaled(0.5, 100.0))));
    }
    return wall;
  }

  Casting casting() {
    const double size_mm = scaled(12.0, 300.0);
    const auto mm = [](double length_mm) { return Length::from_mm(length_mm); };
    const Shape shapes[] = {Slab{mm(size_mm)},
                            Slab{mm(size_mm)},
                            Rod{mm(size_mm)},
                            Ball{mm(size_mm)},
                            Block{mm(size_mm), mm(1.3 * size_mm), mm(2.0 * size_mm)},
                            Disc{mm(3.0 * size_mm), mm(size_mm)},
                            Bar{mm(size_mm), mm(1.5 * size_mm)},
                            Prism{mm(1.8 * size_mm)}};
    Casting casting = of_shape(shapes[below(8)], "reference-516-480");
    Walls walls{.top = wall(), .bottom = {}, .held = below(2) == 0};
    walls.bottom = walls.top;
    if (std::holds_alternative<Slab>(casting.shape) && below(2) == 0) {
      walls.bottom = wall();
      walls.bottom.insulated = below(3) == 0;
    }
    casting.walls = walls;
    return casting;
  }

 private:
  std::mt19937 stream_{20};
};

/// Heat held times resistance, summed over both walls: longer than any time constant of theirs
/// between glass and kiln.
double own_time_h(const Walls& walls) {
  double time_s = 0.0;
  for (const Wall* wall : {&walls.top, &walls.bottom}) {
    double heat = 0.0;
    double resistance = 0.0;
    for (const Layer& layer : wall->layers) {
      resistance += layer.resistance_m2_K_per_W;
      if (layer.kind == Layer::Kind::air) resistance += 0.012;
      if (!layer.material) continue;
      const double thickness_m = layer.thickness.in_m();
      resistance += thickness_m / layer.material->conductivity_W_per_m_K.at(750.0);
      heat += thickness_m * layer.material->density_kg_per_m3 *
              layer.material->heat_capacity_J_per_kg_K.at(750.0);
    }
    time_s += heat * resistance;
  }
  return time_s / 3600.0;
}

}  // namespace

TEST_CASE("random walls: heat and forces balance, no glass leaves the kiln's range, lags as said") {
  Random random;
  constexpr double start_C = 830.0;
  for (int i = 0; i < 60; ++i) {
    const Casting casting = random.casting();
    CAPTURE(i);
    CAPTURE(describe(casting.shape, Lengths::millimetre));
    CAPTURE(describe(*casting.walls, casting.shape, Lengths::millimetre));
    const SteadyCooling steady =
        steady_cooling(casting, Exchange::with(fast_kiln()), Temperature::from_C(500.0));
    const double lag_h = steady.behind_kiln_s() / 3600.0;
    CHECK(lag_h > 0.0);
    // A fast fall, a hold of many lags, one slow rate that moves it little in a lag. The wall of
    // the face that cools worse may be slower than the glass.
    const double slowest_h = lag_h + own_time_h(*casting.walls);
    const double hold_h = 20.0 * slowest_h;
    const double fall_h = (start_C - 520.0) / 300.0;
    const double slow_h = 12.0 * slowest_h;
    const double rate_K_per_h = 1.0 / slowest_h;
    const double end_C = 520.0 - rate_K_per_h * slow_h;
    const AirCurve air{.corners = {{0.0, start_C + 273.15, 0},
                                   {3600.0 * fall_h, 520.0 + 273.15, 0},
                                   {3600.0 * (fall_h + hold_h), 520.0 + 273.15, 1},
                                   {3600.0 * (fall_h + hold_h + slow_h), end_C + 273.15, 2}}};
    const History history = simulate(
        casting, fast_kiln(), air, Temperature::from_C(start_C), Respect::steady_difference);
    CHECK(history.heat_balance_error <= 1e-9);
    CHECK(history.net_stress_Pa <= 1.0);
    constexpr double overshoot_K = 0.1;
    for (const History::Row& row : history.rows) {
      for (const double T_K : {row.surface_K, row.centre_K, row.mean_K}) {
        CHECK(T_K <= start_C + 273.15 + overshoot_K);
        CHECK(T_K >= row.kiln_K - overshoot_K);
      }
    }
    const History::Row& even = history.at(3600.0 * (fall_h + hold_h));
    CHECK(std::abs(even.centre_K - even.kiln_K) <= 0.05);
    const History::Row& end = history.rows.back();
    const double lag_at_end_h = (end.centre_K - end.kiln_K) / rate_K_per_h;
    const SteadyCooling there =
        steady_cooling(casting,
                       Exchange::with(fast_kiln()),
                       Temperature::from_C(end_C + 0.5 * rate_K_per_h * lag_h));
    // Properties change on the way and along the wall.
    CHECK(std::abs(there.behind_kiln_s() / 3600.0 / lag_at_end_h - 1.0) <= 0.02);
  }
}

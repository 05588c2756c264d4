#include <doctest/doctest.h>

#include <cmath>

#include "geometry/area_growth.h"
#include "geometry/equivalent_slab.h"
#include "geometry/scaled_shape.h"

using namespace thickset;

TEST_CASE("scaled shape: every length that follows from it is as many times as large") {
  constexpr double factor = 1.07;
  constexpr double round_off = 1e-9;
  const auto mm = [](double value) { return Length::from_mm(value); };
  const Shape shapes[] = {Slab{mm(50), Faces::one_held},
                          Rod{mm(60)},
                          Ball{mm(90)},
                          Block{mm(75), mm(80), mm(150)},
                          Disc{mm(200), mm(40)},
                          Bar{mm(60), mm(90)},
                          Prism{mm(80)},
                          Tube{mm(120), mm(15), Inside::open},
                          Gridded{.measures = {{"vessel", {mm(200)}}},
                                  .remark = "",
                                  .ball = mm(20),
                                  .volume_to_surface = mm(8),
                                  .growth = {4.0, 9.0},
                                  .steady_difference = mm(21),
                                  .slowest_mode = mm(22),
                                  .permanent_tension = mm(23)}};
  for (const Shape& shape : shapes) {
    CAPTURE(describe(shape, Lengths::millimetre));
    const Shape large = scaled(shape, factor);
    const auto grew = [&](Length before, Length after) {
      return std::abs(after.in_m() / before.in_m() - factor) < round_off;
    };
    CHECK(grew(largest_ball(shape), largest_ball(large)));
    CHECK(grew(volume_to_surface(shape), volume_to_surface(large)));
    const EquivalentSlabs before = equivalent_slabs(shape), after = equivalent_slabs(large);
    CHECK(grew(before.steady_difference, after.steady_difference));
    CHECK(grew(before.slowest_mode, after.slowest_mode));
    CHECK(grew(before.permanent_tension, after.permanent_tension));
    const AreaGrowth slower = area_growth(large), faster = area_growth(shape);
    CHECK(std::abs(slower.per_m * factor - faster.per_m) < round_off);
    CHECK(std::abs(slower.per_m2 * factor * factor - faster.per_m2) < round_off);
  }
}

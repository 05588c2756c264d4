#include "stress/surface_tension.h"

#include <algorithm>
#include <cmath>

#include <doctest/doctest.h>

using namespace thickset;
using stress::surface_tension_factor;

namespace {

Length times_50_mm(double factor) {
  return Length::from_mm(50.0 * factor);
}

// What the table promises between its points.
constexpr double of_bars = 0.005;
constexpr double of_discs = 0.005;
constexpr double of_blocks = 0.002;  // below: computed with samples of the surface
constexpr double above_blocks = 0.03;

}  // namespace

TEST_CASE("surface tension: what is solved as it is gets no factor") {
  CHECK(surface_tension_factor(Slab{times_50_mm(1)}) == 1.0);
  CHECK(surface_tension_factor(Rod{times_50_mm(1)}) == 1.0);
  CHECK(surface_tension_factor(Ball{times_50_mm(1)}) == 1.0);
}

// Computed, not published, off the points of the table: Ritz method, tests/reference/shape_tension.
TEST_CASE("surface tension: bars between the points of the table agree with direct computation") {
  struct Row {
    double ratio, factor;
  };
  for (const Row& row : {Row{1.05, 1.1426},
                         Row{1.1, 1.1533},
                         Row{1.15, 1.1617},
                         Row{1.3, 1.1750},
                         Row{1.4, 1.1752},
                         Row{1.6, 1.1619},
                         Row{1.75, 1.1450},
                         Row{2.2, 1.0906},
                         Row{2.5, 1.0611},
                         Row{3.5, 1.0434},
                         Row{8, 1.0405}}) {
    CAPTURE(row.ratio);
    const double factor = surface_tension_factor(Bar{times_50_mm(row.ratio), times_50_mm(1)});
    CAPTURE(factor);
    CHECK(std::abs(factor - row.factor) <= of_bars);
  }
}

TEST_CASE("surface tension: blocks between the points of the table agree with direct computation") {
  struct Row {
    double b, c, factor;
  };
  for (const Row& row : {Row{1.4, 3, 1.1815},
                         Row{1.1, 2, 1.1622},
                         Row{1.75, 2.5, 1.1145},
                         Row{1.35, 1.35, 1.0671},
                         Row{1.1, 1.1, 1.0531},
                         Row{2.5, 5, 1.0609},
                         Row{2.5, 2.5, 1.0412},
                         Row{1.7, 8, 1.1529}}) {
    CAPTURE(row.b);
    CAPTURE(row.c);
    const double factor =
        surface_tension_factor(Block{times_50_mm(row.c), times_50_mm(1), times_50_mm(row.b)});
    CAPTURE(factor);
    CHECK(factor >= row.factor - of_blocks);
    CHECK(factor <= row.factor + above_blocks);
  }
}

TEST_CASE("surface tension: discs between the points of the table agree with direct computation") {
  struct Row {
    double height, factor;
  };
  for (const Row& row : {Row{0.05, 1.0294},
                         Row{0.1, 1.0156},
                         Row{0.15, 1.0098},
                         Row{0.4, 1.0},
                         Row{0.55, 1.0409},
                         Row{0.6, 1.0501},
                         Row{0.65, 1.0530},
                         Row{0.8, 1.0344},
                         Row{0.92, 1.0104},
                         Row{1.0, 1.0},
                         Row{2.0, 1.0}}) {
    CAPTURE(row.height);
    const double factor = surface_tension_factor(Disc{times_50_mm(1), times_50_mm(row.height)});
    CAPTURE(factor);
    CHECK(std::abs(factor - row.factor) <= of_discs);
  }
}

// The largest ratio in steady cooling (notes/stress.md#surface-tension): a factor below it would
// let a long stage pull more than was counted.
TEST_CASE("surface tension: never below what steady cooling asks") {
  struct Row {
    double ratio, steady;
  };
  for (const Row& row : {Row{1.0, 1.0452},
                         Row{1.25, 1.1132},
                         Row{1.5, 1.1263},
                         Row{2.0, 1.0915},
                         Row{3.0, 1.0244},
                         Row{10.0, 1.0044}}) {
    CAPTURE(row.ratio);
    CHECK(surface_tension_factor(Bar{times_50_mm(1), times_50_mm(row.ratio)}) > row.steady);
  }
  CHECK(surface_tension_factor(Prism{times_50_mm(1)}) > 1.0675);
  CHECK(surface_tension_factor(Block{times_50_mm(1), times_50_mm(1.5), times_50_mm(4)}) > 1.130);
}

TEST_CASE("surface tension: a solid on a grid counts as the worst of all blocks") {
  double largest = 0.0;
  for (double b = 1.0; b < 8.0; b *= 1.05) {
    for (double c = b; c < 12.0; c *= 1.05) {
      largest = std::max(
          largest, surface_tension_factor(Block{times_50_mm(1), times_50_mm(b), times_50_mm(c)}));
    }
  }
  Gridded solid{.measures = {},
                .remark = {},
                .ball = times_50_mm(1),
                .volume_to_surface = times_50_mm(0.2),
                .growth = {0.0, 0.0},
                .steady_difference = times_50_mm(0.7),
                .slowest_mode = times_50_mm(0.7),
                .permanent_tension = times_50_mm(0.7)};
  CHECK(surface_tension_factor(solid) >= largest);
  CHECK(surface_tension_factor(solid) <= 1.01 * largest);
}

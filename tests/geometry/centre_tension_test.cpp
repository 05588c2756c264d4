#include "geometry/centre_tension.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>

#include <doctest/doctest.h>

using namespace thickset::centre_tension;

namespace {

bool agrees(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

// What the tables promise between their points.
constexpr double interpolation_error = 0.005;

}  // namespace

TEST_CASE("centre tension: rod and ball carry 1/32 and 1/60, not the slab's 1/24") {
  // [TG70] chapter 13 with T = -r^2: rod s = R^2/8, ball R^2/15
  CHECK(agrees(rod_slab_m(1.0), std::sqrt(24.0 / 32.0), 1e-15));
  CHECK(agrees(ball_slab_m(1.0), std::sqrt(24.0 / 60.0), 1e-15));
}

TEST_CASE("centre tension: prism agrees with a second method") {
  // Computed, not published: stress function 0.5936, displacement method 0.5936
  CHECK(agrees(prism_slab_m(1.0), 0.5936, 1e-4));
}

// Computed, not published, at points that are not in the table: Ritz method, polynomials.
TEST_CASE("centre tension: bars between the points of the table agree with direct computation") {
  struct Row {
    double ratio, slab;
  };
  for (const Row& row : {Row{1.1, 0.9954},
                         Row{1.35, 1.0690},
                         Row{1.7, 1.1197},
                         Row{2.4, 1.1421},
                         Row{5, 1.0930},
                         Row{8, 1.0597},
                         Row{10, 1.0480},
                         Row{20, 1.0243}}) {
    CAPTURE(row.ratio);
    CHECK(agrees(bar_slab_m(1.0, row.ratio), row.slab, interpolation_error));
  }
}

TEST_CASE("centre tension: blocks between the points of the table agree with direct computation") {
  struct Row {
    double b, c, slab;
  };
  for (const Row& row : {Row{1, 1.1, 0.7839},    Row{1.1, 1.1, 0.7902},   Row{1, 1.7, 0.9398},
                         Row{1.1, 1.35, 0.9014}, Row{1.35, 1.35, 0.9197}, Row{1.1, 5, 0.9955},
                         Row{1.35, 2.4, 1.0753}, Row{1.7, 1.7, 1.0287},   Row{1.7, 2.4, 1.1160},
                         Row{2.4, 2.4, 1.1007},  Row{2.5, 3.5, 1.1445},   Row{1, 10, 0.9525},
                         Row{5, 5, 1.0732},      Row{3.5, 8, 1.1282},     Row{1.5, 10, 1.0963},
                         Row{8, 8, 1.0469},      Row{2, 9, 1.1370},       Row{5, 9, 1.0994},
                         Row{9, 9, 1.0418},      Row{15, 15, 1.0253}}) {
    CAPTURE(row.b);
    CAPTURE(row.c);
    CAPTURE(block_slab_m(1.0, row.b, row.c));
    CHECK(agrees(block_slab_m(1.0, row.b, row.c), row.slab, interpolation_error));
  }
}

TEST_CASE("centre tension: discs between the points of the table agree with direct computation") {
  struct Row {
    double height, slab;  // diameter 1; slab in units of the smaller of the two
  };
  for (const Row& row :
       {Row{0.03, 1.0144}, Row{0.05, 1.0239}, Row{0.08, 1.0376}, Row{0.12, 1.0552},
        Row{0.3, 1.1115},  Row{0.4, 1.1063},  Row{0.6, 0.9930},  Row{0.65, 0.9519},
        Row{0.7, 0.9089},  Row{0.8, 0.8224},  Row{0.9, 0.7404},  Row{0.92, 0.7328},
        Row{0.95, 0.7293}, Row{1.05, 0.7450}, Row{1.1, 0.7658},  Row{1.15, 0.7838},
        Row{1.7, 0.8661},  Row{1.8, 0.8694},  Row{2.5, 0.8701},  Row{6.0, 0.8660}}) {
    CAPTURE(row.height);
    const double smaller = std::min(1.0, row.height);
    CAPTURE(disc_slab_m(1.0, row.height) / smaller);
    CHECK(agrees(disc_slab_m(1.0, row.height), row.slab * smaller, interpolation_error));
  }
}

TEST_CASE("centre tension: long blocks are bars, wide bars slabs, discs end at slab and rod") {
  // five digits of stress in the table give 1.2e-4 of the thickness
  constexpr double table_digits = 1.5e-4;
  for (const double b : {1.0, 1.3, 2.0, 5.0}) {
    CHECK(agrees(block_slab_m(1.0, b, 1e6), bar_slab_m(1.0, b), table_digits));
  }
  CHECK(agrees(bar_slab_m(1.0, 1e6), 1.0, table_digits));
  CHECK(agrees(block_slab_m(1.0, 1e6, 1e6), 1.0, table_digits));
  CHECK(agrees(disc_slab_m(1e6, 1.0), 1.0, table_digits));
  CHECK(agrees(disc_slab_m(1.0, 1e6), rod_slab_m(1.0), table_digits));
}

TEST_CASE("centre tension: no jump where the larger stress or the smaller side changes") {
  constexpr double step = 1e-6;
  constexpr double largest_slope = 3.0;  // of any of these functions against one side
  for (const double side : {1.0, 1.5, 2.0, 4.0, 6.0}) {
    CAPTURE(side);
    CHECK(std::abs(block_slab_m(1.0, side, side + step) - block_slab_m(1.0, side, side - step)) <=
          2.0 * step * largest_slope);
    CHECK(std::abs(disc_slab_m(1.0, side + step) - disc_slab_m(1.0, side - step)) <=
          2.0 * step * largest_slope);
    CHECK(std::abs(bar_slab_m(1.0, side + step) - bar_slab_m(1.0, side - step)) <=
          2.0 * step * largest_slope);
  }
}

TEST_CASE("centre tension: nowhere above the largest point of the table, nowhere below the cube") {
  // largest where the table has 1 x 2 x 4
  const double most = block_slab_m(1.0, 2.0, 4.0) * (1.0 + interpolation_error);
  for (double b = 1.0; b < 200.0; b *= 1.07) {
    for (double c = b; c < 400.0; c *= 1.11) {
      CAPTURE(b);
      CAPTURE(c);
      CHECK(block_slab_m(1.0, b, c) <= most);
      CHECK(block_slab_m(1.0, b, c) >= block_slab_m(1.0, 1.0, 1.0));
    }
  }
}

TEST_CASE("centre tension: the order of the sides does not matter and sizes scale") {
  const double one_order = block_slab_m(0.07, 0.11, 0.2);
  CHECK(block_slab_m(0.2, 0.07, 0.11) == one_order);
  CHECK(block_slab_m(0.11, 0.2, 0.07) == one_order);
  CHECK(bar_slab_m(0.07, 0.2) == bar_slab_m(0.2, 0.07));
  CHECK(agrees(block_slab_m(0.14, 0.22, 0.4), 2.0 * one_order, 1e-14));
}

#include "geometry/solid_slabs.h"

#include "geometry/solid_regions.h"
#include "slow_build.h"

#include <cmath>
#include <string>

#include <doctest/doctest.h>
#include <Eigen/Geometry>

using namespace thickset;
using namespace solid_regions;

namespace {

constexpr SolidSettings small_grids = {.field_cells = 48.0 * 48.0 * 48.0,
                                       .tension_cells = 36.0 * 36.0 * 36.0};

}  // namespace

TEST_CASE(
    "solid slabs: of known shapes they are the known ones, within what they say of themselves" *
    doctest::skip(slow_build)) {
  struct Row {
    std::string name;
    Convex region;
    Shape shape;
  };
  const Length one = Length::from_m(0.1);
  const Length two = Length::from_m(0.2);
  const Length four = Length::from_m(0.4);
  const Eigen::Matrix3d askew = (Eigen::AngleAxisd(0.5, Eigen::Vector3d(1, 2, 3).normalized()) *
                                 Eigen::AngleAxisd(0.9, Eigen::Vector3d::UnitZ()))
                                    .toRotationMatrix();
  const Row rows[] = {{"ball", ball(0.05), Ball{one}},
                      {"block askew", turned_box(0.1, 0.2, 0.2, askew), Block{one, two, two}},
                      {"cube", box(0.1, 0.1, 0.1), Block{one, one, one}},
                      {"block", box(0.1, 0.2, 0.4), Block{one, two, four}},
                      {"disc", cylinder(0.2, 0.2, 0.05), Disc{four, one}}};
  // besides the grid: tables of the third have four digits and are interpolated
  constexpr double of_tables = 0.002;
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const EquivalentSlabs known = equivalent_slabs(row.shape);
    const SolidSlabs found = solid_slabs(row.region, {}, small_grids);
    const auto off = [](Length a, Length b) { return std::abs(a.in_m() / b.in_m() - 1.0); };
    CHECK(off(found.slabs.steady_difference, known.steady_difference) <
          found.uncertainty.steady_difference + 1e-5);
    CHECK(off(found.slabs.slowest_mode, known.slowest_mode) < found.uncertainty.slowest_mode);
    CHECK(off(found.slabs.permanent_tension, known.permanent_tension) <
          found.uncertainty.permanent_tension + of_tables);
    CHECK(found.uncertainty.steady_difference < 0.01);
    CHECK(found.uncertainty.slowest_mode < 0.01);
    CHECK(found.uncertainty.permanent_tension < 0.02);
    CHECK(found.hottest_m.norm() < 0.01);
    CHECK(found.largest_tension_share >= 1.0);
    CHECK(found.thick_beside_thin.excess_m2 < 1e-6);
    CHECK(found.unresolved < 0.01);
  }
}

TEST_CASE("solid slabs: a solid that is nearly a slab is one") {
  // In the middle of a plate 1 x 12 x 12 the edges are far away.
  const SolidSlabs plate = solid_slabs(box(0.3, 0.3, 0.025), {}, small_grids);
  CHECK(std::abs(plate.slabs.steady_difference.in_m() / 0.025 - 1.0) < 0.002);
  CHECK(std::abs(plate.slabs.slowest_mode.in_m() / 0.025 - 1.0) < 0.02);
}

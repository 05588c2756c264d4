#include "geometry/convex_region.h"

#include "geometry/area_growth.h"
#include "geometry/cooling_field.h"
#include "geometry/poisson_maximum.h"
#include "geometry/solid_by_measures.h"

#include <cmath>
#include <limits>
#include <numbers>
#include <random>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;
using V = Eigen::Vector3d;

namespace {

Length m(double length_m) {
  return Length::from_m(length_m);
}

bool agrees(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

const std::vector<bool> all(6, true);

}  // namespace

// 3 long, tapering from 1.5 to 0.5: elementary.
TEST_CASE("convex region: volume, areas and box of a wedge") {
  const ConvexRegion wedge = region_of(Wedge{m(3.0), m(2.0), m(1.5), m(0.5)});
  CHECK(agrees(wedge.volume_m3(), 3.0 * 2.0 * 1.0, 1e-14));
  const double areas[] = {3.0, 1.0, 3.0, 3.0, 6.0, 2.0 * std::sqrt(10.0)};
  const V normals[] = {
      -V::UnitX(), V::UnitX(), -V::UnitY(), V::UnitY(), -V::UnitZ(), V(1.0, 0.0, 3.0).normalized()};
  for (std::size_t face = 0; face < 6; ++face) {
    CHECK(agrees(wedge.area_m2(face), areas[face], 1e-14));
    CHECK((wedge.faces()[face].normal - normals[face]).norm() < 1e-14);
    CHECK(wedge.face_of(normals[face]) == face);
  }
  CHECK(wedge.bounds_m().low_m == V(0, 0, 0));
  CHECK(wedge.bounds_m().high_m == V(3, 2, 1.5));
}

TEST_CASE("convex region: lines enter and leave where a wedge begins and ends") {
  const ConvexRegion wedge = region_of(Wedge{m(3.0), m(2.0), m(1.5), m(0.5)});
  std::mt19937 random{3};
  std::uniform_real_distribution<double> share{-0.1, 1.1};
  for (int i = 0; i < 3000; ++i) {
    const V place(3.0 * share(random), 2.0 * share(random), 1.5 * share(random));
    const bool holds = (place.array() > 0.0).all() && place.x() < 3.0 && place.y() < 2.0 &&
                       place.z() < 1.5 - place.x() / 3.0;
    for (int axis = 0; axis < 3; ++axis) {
      const auto crossings = wedge.crossings(axis, place((axis + 1) % 3), place((axis + 2) % 3));
      REQUIRE(crossings.size() % 2 == 0);
      const bool within = !crossings.empty() && crossings[0].position_m < place(axis) &&
                          place(axis) < crossings[1].position_m;
      REQUIRE(within == holds);
    }
  }
  const double nan = std::numeric_limits<double>::quiet_NaN();
  CHECK(wedge.crossings(0, nan, 0.5).empty());
}

TEST_CASE("convex region: a wedge of equal ends is a block") {
  const Wedge even{m(0.15), m(0.09), m(0.06), m(0.06)};
  const ConvexRegion region = region_of(even);
  const Block block{m(0.15), m(0.09), m(0.06)};
  const AreaGrowth found = region.growth_of(all);
  const AreaGrowth known = area_growth(block);
  CHECK(agrees(found.per_m, known.per_m, 1e-12));
  CHECK(agrees(found.per_m2, known.per_m2, 1e-12));
  CHECK(largest_ball(even).in_m() == doctest::Approx(0.06));
  const CoolingField field{region, {}, {32.0 * 32.0 * 32.0}};
  CHECK(agrees(field.largest_m2(), poisson::block_maximum_m2(0.15, 0.09, 0.06), 0.005));
}

// Standing on an insulated base it is the upper half of a block twice as high.
TEST_CASE("convex region: the base of a block as a wedge, insulated, is a plane of symmetry") {
  const ConvexRegion region = region_of(Wedge{m(0.15), m(0.09), m(0.06), m(0.06)});
  const CoolingAt on_shelf = [&](const V&, const V& normal) {
    return region.face_of(normal) == 4 ? Cooling::insulated() : Cooling::exposed();
  };
  const CoolingField field{region, on_shelf, {32.0 * 32.0 * 32.0}};
  CHECK(agrees(field.largest_m2(), poisson::block_maximum_m2(0.15, 0.09, 0.12), 0.005));
}

// Faces that stay, a quarter of a cylinder along each edge between two that count and an eighth of
// a ball at each corner between three.
TEST_CASE("convex region: faces that do not count leave their edges out") {
  const ConvexRegion region = region_of(Wedge{m(3.0), m(2.0), m(1.0), m(1.0)});
  std::vector<bool> counts = all;
  counts[4] = false;  // bottom
  const AreaGrowth growth = region.growth_of(counts);
  const double area = 6.0 + 2.0 * (3.0 + 2.0);
  const double edges = 2.0 * (3.0 + 2.0) + 4.0 * 1.0;
  CHECK(agrees(growth.per_m, 0.5 * std::numbers::pi * edges / area, 1e-12));
  CHECK(agrees(growth.per_m2, 4.0 * 0.5 * std::numbers::pi / area, 1e-12));
}

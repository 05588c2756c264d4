#include "geometry/grid_by_measures.h"

#include "geometry/equivalent_slab.h"

#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

// Unoptimised, fields and elastic solutions on these grids take minutes.
#ifdef NDEBUG

namespace {

Length mm(double length_mm) {
  return Length::from_mm(length_mm);
}

GriddedSolid gridded(const SolidByMeasures& solid, const std::vector<BoxSide>& insulated = {}) {
  return gridded_solid(solid, insulated, {.source = "--size"}, {});
}

/// Each slab at least the known one, and above it by what it may be off, `more` at most.
void check_near(const Gridded& found, const EquivalentSlabs& known, double more) {
  const auto near = [&](Length slab, Length exact) {
    CAPTURE(slab.in_mm());
    CAPTURE(exact.in_mm());
    constexpr double below = 2e-3;  // the tables of the third have four digits
    CHECK(slab.in_m() >= exact.in_m() * (1.0 - below));
    CHECK(slab.in_m() <= exact.in_m() * (1.0 + more));
  };
  near(found.steady_difference, known.steady_difference);
  near(found.slowest_mode, known.slowest_mode);
  near(found.permanent_tension, known.permanent_tension);
}

std::string shown(const GriddedSolid& solid, Lengths unit = Lengths::millimetre) {
  return describe(solid.shape, unit);
}

}  // namespace

TEST_CASE("grid by measures: a wedge of equal ends is the block") {
  const GriddedSolid wedge = gridded(Wedge{mm(120), mm(80), mm(60), mm(60)});
  check_near(wedge.shape, equivalent_slabs(Block{mm(120), mm(80), mm(60)}), 0.03);
  CHECK(shown(wedge) == "wedge 120 x 80, thick end 60, thin end 60 mm");
  CHECK(wedge.volume_m3 == doctest::Approx(576e-6));
  CHECK(volume_to_surface(wedge.shape).in_mm() ==
        doctest::Approx(volume_to_surface(Block{mm(120), mm(80), mm(60)}).in_mm()));
}

TEST_CASE("grid by measures: a boss of no height leaves the disc") {
  const GriddedSolid disc = gridded(BossedDisc{mm(200), mm(50), mm(60), mm(1e-4)});
  check_near(disc.shape, equivalent_slabs(Disc{mm(200), mm(50)}), 0.03);
  CHECK(disc.places == PlaceWords::round);
}

TEST_CASE("grid by measures: a neck as wide as both lumps makes a rod") {
  const Gridded rod = gridded(Dumbbell{mm(50), mm(50), mm(50), mm(200)}).shape;
  const EquivalentSlabs endless = equivalent_slabs(Rod{mm(50)});
  CHECK(rod.steady_difference.in_mm() ==
        doctest::Approx(endless.steady_difference.in_mm()).epsilon(0.005));
  CHECK(rod.permanent_tension.in_mm() ==
        doctest::Approx(endless.permanent_tension.in_mm()).epsilon(0.02));
  // what it holds and what holds it: eigenvalues fall as a body grows
  CHECK(rod.slowest_mode >= equivalent_slabs(Disc{mm(50), mm(200)}).slowest_mode);
  CHECK(rod.slowest_mode.in_mm() <=
        equivalent_slabs(Disc{mm(50), mm(250)}).slowest_mode.in_mm() * 1.02);
}

// Its thermal half is that of the ball. The base is free to bend and to widen, so the third is not.
TEST_CASE("grid by measures: half a ball on an insulated base cools as the ball does") {
  const GriddedSolid dome = gridded(Dome{mm(100), mm(50)}, {BoxSide::bottom});
  const EquivalentSlabs ball = equivalent_slabs(Ball{mm(100)});
  CHECK(dome.shape.steady_difference.in_mm() ==
        doctest::Approx(ball.steady_difference.in_mm()).epsilon(0.005));
  CHECK(dome.shape.slowest_mode.in_mm() ==
        doctest::Approx(ball.slowest_mode.in_mm()).epsilon(0.01));
  CHECK(volume_to_surface(dome.shape).in_mm() == doctest::Approx(100.0 / 6.0));
  CHECK(dome.shape.growth.per_m == doctest::Approx(2.0 / 0.05));
  CHECK(dome.hottest_m.z() < 0.002);
  CHECK(dome.shape.permanent_tension.in_mm() > 25.0);
  CHECK(dome.shape.permanent_tension.in_mm() < 75.0);
  CHECK(shown(dome) == "dome 100 x 50 mm, bottom insulated");
}

// A wedge of equal ends that cools above alone is a slab with one cooled face that can bend. The
// hottest place is on the insulated face, where no stress is read.
TEST_CASE("grid by measures: the tension over insulated faces is that of a slab free to bend") {
  const GriddedSolid plate =
      gridded(Wedge{mm(120), mm(120), mm(30), mm(30)},
              {BoxSide::bottom, BoxSide::left, BoxSide::right, BoxSide::front, BoxSide::back});
  check_near(plate.shape, equivalent_slabs(Slab{mm(30), Faces::one_free}), 0.02);
}

TEST_CASE("grid by measures: the wall of a tall vessel is a tube") {
  for (const Inside inside : {Inside::open, Inside::core}) {
    const Tube tube{mm(100), mm(20), inside};
    const EquivalentSlabs wall = equivalent_slabs(tube);
    // a bottom thinner than the wall, so that the wall governs
    const GriddedSolid vessel = gridded(Vessel{mm(100), mm(200), mm(20), mm(12), inside});
    CHECK(vessel.shape.steady_difference.in_mm() ==
          doctest::Approx(wall.steady_difference.in_mm()).epsilon(0.02));
    CHECK(vessel.shape.slowest_mode.in_mm() ==
          doctest::Approx(wall.slowest_mode.in_mm()).epsilon(0.04));
    CHECK(vessel.shape.permanent_tension >= wall.permanent_tension);
    CHECK(vessel.shape.cools_inside == (inside == Inside::open));
    CHECK(shown(vessel) ==
          std::string{"vessel 100 x 200, wall 20, bottom 12 mm, "} + describe(inside));
  }
}

TEST_CASE("grid by measures: both ends of a wedge are told as long bars") {
  const GriddedSolid wedge =
      gridded(Wedge{mm(200), mm(100), mm(60), mm(20)}, {BoxSide::bottom, BoxSide::right});
  REQUIRE(wedge.ends.has_value());
  CHECK(wedge.ends->thick_acts_as.in_mm() ==
        doctest::Approx(equivalent_slabs(Bar{mm(100), mm(120)}).steady_difference.in_mm()));
  CHECK(wedge.ends->thin_acts_as.in_mm() ==
        doctest::Approx(equivalent_slabs(Bar{mm(100), mm(40)}).steady_difference.in_mm()));
  CHECK(shown(wedge) ==
        "wedge 200 x 100, thick end 60, thin end 20 mm, bottom insulated, thin end "
        "insulated");
  CHECK(shown(gridded(Cone{Length::from_inch(4), Length::from_inch(6)}), Lengths::inch) ==
        "cone 4 x 6 in");
}

#endif

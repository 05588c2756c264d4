#include "geometry/equivalent_slab.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

Length mm(double length_mm) {
  return Length::from_mm(length_mm);
}

bool agrees(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

struct Expected {
  double difference, mode, tension;
};

void check_mm(const Shape& shape, const Expected& expected_mm, double tolerance_mm) {
  const EquivalentSlabs slabs = equivalent_slabs(shape);
  CHECK(std::abs(slabs.steady_difference.in_mm() - expected_mm.difference) <= tolerance_mm);
  CHECK(std::abs(slabs.slowest_mode.in_mm() - expected_mm.mode) <= tolerance_mm);
  CHECK(std::abs(slabs.permanent_tension.in_mm() - expected_mm.tension) <= tolerance_mm);
}

constexpr double rounding = 1e-13;

}  // namespace

TEST_CASE(
    "equivalent slabs: a slab is its own, one cooled face counts double unless free to bend") {
  check_mm(Slab{mm(75)}, {75, 75, 75}, rounding * 75);
  check_mm(Slab{mm(75), Faces::one_free}, {150, 150, 75}, rounding * 150);
  check_mm(Slab{mm(75), Faces::one_held}, {150, 150, 150}, rounding * 150);
}

TEST_CASE("equivalent slabs: rod, ball and prism follow from their closed forms") {
  // rod: sqrt(1/2), pi / (2 j01) with j01 = 2.404825558 ([AS64] table 9.5), sqrt(3)/2
  check_mm(Rod{mm(1000)}, {707.1068, 653.1851, 866.0254}, 1e-4);
  // ball: sqrt(1/3), 1/2, sqrt(2/5)
  check_mm(Ball{mm(1000)}, {577.3503, 500.0, 632.4555}, 1e-4);
  // prism: sqrt(2)/3, sqrt(3)/4 ([LAME1833]); the third is computed, not published
  check_mm(Prism{mm(1000)}, {471.4045, 433.0127, 593.6}, 0.05);
}

// Computed, not published, to three digits.
TEST_CASE("equivalent slabs: bar, cube and block agree with rounded independent values") {
  check_mm(Bar{mm(1000), mm(1000)}, {767.7, 707.1, 952.5}, 0.1);
  check_mm(Block{mm(1000), mm(1000), mm(1000)}, {670.6, 577.4, 724.5}, 0.1);
  check_mm(Block{mm(100), mm(100), mm(150)}, {73.7, 64.0, 91.4}, 0.06);
}

TEST_CASE("equivalent slabs: the first slab carries less permanent tension than the third shows") {
  for (const Shape& shape : std::vector<Shape>{Rod{mm(80)},
                                               Ball{mm(80)},
                                               Prism{mm(80)},
                                               Bar{mm(80), mm(80)},
                                               Block{mm(80), mm(80), mm(80)},
                                               Block{mm(75), mm(75), mm(150)},
                                               Disc{mm(200), mm(40)}}) {
    const EquivalentSlabs slabs = equivalent_slabs(shape);
    CAPTURE(describe(shape, Lengths::millimetre));
    CHECK(slabs.slowest_mode < slabs.steady_difference);
    CHECK(slabs.steady_difference < slabs.permanent_tension);
    // stress goes with the square; a block of 1 x 1 x 2 has the largest ratio, 1.593
    CHECK(std::pow(slabs.permanent_tension.in_m() / slabs.steady_difference.in_m(), 2) < 1.6);
  }
}

TEST_CASE("equivalent slabs: the order of the sides does not matter") {
  const EquivalentSlabs one = equivalent_slabs(Block{mm(75), mm(90), mm(150)});
  const EquivalentSlabs other = equivalent_slabs(Block{mm(150), mm(75), mm(90)});
  CHECK(one.steady_difference == other.steady_difference);
  CHECK(agrees(one.slowest_mode.in_m(), other.slowest_mode.in_m(), rounding));
  CHECK(one.permanent_tension == other.permanent_tension);
}

TEST_CASE("equivalent slabs: growing a side never lowers steady difference or slowest mode") {
  // The third may fall: the cooler edges of a plate twice as wide as thick stretch its middle.
  const auto grows = [](const Shape& small, const Shape& large) {
    const EquivalentSlabs a = equivalent_slabs(small);
    const EquivalentSlabs b = equivalent_slabs(large);
    return b.steady_difference.in_m() >= a.steady_difference.in_m() * (1.0 - rounding) &&
           b.slowest_mode.in_m() >= a.slowest_mode.in_m() * (1.0 - rounding);
  };
  for (double fixed = 10.0; fixed < 1000.0; fixed *= 3.1) {
    for (double side = 10.0; side < 1000.0; side *= 1.17) {
      CAPTURE(fixed);
      CAPTURE(side);
      CHECK(grows(Bar{mm(fixed), mm(side)}, Bar{mm(fixed), mm(side * 1.17)}));
      CHECK(grows(Disc{mm(fixed), mm(side)}, Disc{mm(fixed), mm(side * 1.17)}));
      CHECK(grows(Disc{mm(side), mm(fixed)}, Disc{mm(side * 1.17), mm(fixed)}));
      CHECK(grows(Block{mm(fixed), mm(50), mm(side)}, Block{mm(fixed), mm(50), mm(side * 1.17)}));
    }
  }
}

TEST_CASE("equivalent slabs: long blocks are bars, wide bars slabs, discs end at rod and slab") {
  // the slowest mode differs by (smallest/largest)^2 / 2 = 5e-7, the tension by the table's digits
  constexpr double near = 1.5e-4;
  const auto same = [&](const Shape& one, const Shape& other) {
    const EquivalentSlabs a = equivalent_slabs(one);
    const EquivalentSlabs b = equivalent_slabs(other);
    return agrees(a.steady_difference.in_m(), b.steady_difference.in_m(), rounding) &&
           agrees(a.slowest_mode.in_m(), b.slowest_mode.in_m(), 1e-6) &&
           agrees(a.permanent_tension.in_m(), b.permanent_tension.in_m(), near);
  };
  CHECK(same(Block{mm(50), mm(80), mm(80000)}, Bar{mm(50), mm(80)}));
  CHECK(same(Disc{mm(50), mm(50000)}, Rod{mm(50)}));
  // edges act on the tension of a plate like 0.5 thickness/width
  CHECK(same(Bar{mm(1), mm(10000)}, Slab{mm(1)}));
  CHECK(same(Disc{mm(10000), mm(1)}, Slab{mm(1)}));
}

// Computed, not published (tests/reference/shape_tension.cpp, columns dperm and dperm_body_max):
// the slab with the largest permanent tension anywhere in the solid, lengths in units of the
// smallest.
TEST_CASE("equivalent slabs: the third is on the cautious side of the elastic solution anywhere") {
  struct Row {
    Shape shape;
    double largest;
  };
  const auto m = [](double length) { return Length::from_m(length); };
  const Row rows[] = {{Bar{m(1), m(1)}, 0.9525},
                      {Bar{m(1), m(1.25)}, 1.0445},
                      {Bar{m(1), m(1.5)}, 1.0963},
                      {Bar{m(1), m(2)}, 1.1370},
                      {Bar{m(1), m(4)}, 1.1121},
                      {Prism{m(1)}, 0.5936},
                      {Block{m(1), m(1), m(1)}, 0.725},
                      {Block{m(1), m(1.25), m(6)}, 1.0486},
                      {Block{m(1), m(2), m(6)}, 1.1414},
                      {Block{m(1), m(3), m(3)}, 1.1071},
                      {Block{m(1), m(4), m(4)}, 1.1160},
                      {Block{m(1), m(6), m(6)}, 1.1190},
                      {Block{m(1), m(6), m(12)}, 1.1176},
                      {Block{m(1), m(12), m(12)}, 1.1191},
                      {Disc{m(10), m(1)}, 1.0466},
                      {Disc{m(4), m(1)}, 1.1016},
                      {Disc{m(2), m(1)}, 1.0636},
                      {Disc{m(1), m(1)}, 0.7208},
                      {Disc{m(1), m(4)}, 0.8691}};
  constexpr double stress_tol = 0.01;  // of the stress: what the notes promise off centre
  for (const Row& row : rows) {
    CAPTURE(describe(row.shape, Lengths::millimetre));
    const double used = equivalent_slabs(row.shape).permanent_tension.in_m();
    CHECK(used * used >= (1.0 - stress_tol) * row.largest * row.largest);
    // and not a slab, ball or rod of the same difference, none of which bounds it: [BW60], [TG70]
    const double first = equivalent_slabs(row.shape).steady_difference.in_m();
    CHECK(used > first);
  }
  const auto over_rod = [](const Shape& shape) {
    const EquivalentSlabs slabs = equivalent_slabs(shape);
    return std::pow(slabs.permanent_tension.in_m() / slabs.steady_difference.in_m(), 2) / 1.5;
  };
  CHECK(over_rod(Rod{m(1)}) == doctest::Approx(1.0));
  CHECK(over_rod(Ball{m(1)}) == doctest::Approx(1.2 / 1.5));
  CHECK(over_rod(Prism{m(1)}) > 1.05);
  CHECK(over_rod(Bar{m(1), m(1)}) > 1.02);
}

TEST_CASE("equivalent slabs: a plate grows wide without a jump of the third") {
  double before = 0.0;
  for (double width = 2.5; width < 8.0; width += 0.01) {
    const Shape plate = Block{Length::from_m(1), Length::from_m(width), Length::from_m(width)};
    const double third = equivalent_slabs(plate).permanent_tension.in_m();
    if (before > 0.0) CHECK(std::abs(third - before) < 0.006);
    before = third;
  }
}

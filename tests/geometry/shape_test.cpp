#include "geometry/shape.h"

#include <cmath>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

Length mm(double length_mm) {
  return Length::from_mm(length_mm);
}
constexpr double rounding_mm = 1e-11;

void check_mm(Length length, double expected_mm) {
  CHECK(std::abs(length.in_mm() - expected_mm) <= rounding_mm);
}

}  // namespace

TEST_CASE("shape: the largest ball is the smallest side, and touches three sides of a prism") {
  check_mm(largest_ball(Slab{mm(75)}), 75);
  check_mm(largest_ball(Slab{mm(75), Faces::one_held}), 75);
  check_mm(largest_ball(Rod{mm(60)}), 60);
  check_mm(largest_ball(Ball{mm(60)}), 60);
  check_mm(largest_ball(Block{mm(150), mm(75), mm(80)}), 75);
  check_mm(largest_ball(Disc{mm(200), mm(40)}), 40);
  check_mm(largest_ball(Disc{mm(40), mm(200)}), 40);
  check_mm(largest_ball(Bar{mm(90), mm(60)}), 60);
  check_mm(largest_ball(Prism{mm(80)}), 80 / std::sqrt(3.0));
}

TEST_CASE("shape: volume over surface counts cooled faces only") {
  check_mm(volume_to_surface(Slab{mm(60)}), 30);
  check_mm(volume_to_surface(Slab{mm(60), Faces::one_free}), 60);
  check_mm(volume_to_surface(Rod{mm(60)}), 15);
  check_mm(volume_to_surface(Ball{mm(60)}), 10);
  check_mm(volume_to_surface(Block{mm(60), mm(60), mm(60)}), 10);
  check_mm(volume_to_surface(Block{mm(20), mm(30), mm(60)}), 36000.0 / 7200.0);
  check_mm(volume_to_surface(Disc{mm(60), mm(60)}), 10);
  check_mm(volume_to_surface(Bar{mm(60), mm(60)}), 15);
  check_mm(volume_to_surface(Prism{mm(60)}), 60 * std::sqrt(3.0) / 12);
}

TEST_CASE("shape: a description names kind, sizes, unit and a single cooled face") {
  CHECK(describe(Slab{mm(75)}, Lengths::millimetre) == "slab 75 mm");
  CHECK(describe(Slab{mm(75), Faces::one_free}, Lengths::millimetre) ==
        "slab 75 mm, one face cooled, free to bend");
  CHECK(describe(Slab{mm(75), Faces::one_held}, Lengths::millimetre) ==
        "slab 75 mm, one face cooled, held flat");
  CHECK(describe(Rod{mm(76.2)}, Lengths::millimetre) == "rod 76.2 mm");
  CHECK(describe(Ball{mm(76.2)}, Lengths::inch) == "ball 3 in");
  CHECK(describe(Ball{mm(90)}, Lengths::inch) == "ball 3.54 in");
  CHECK(describe(Block{mm(75), mm(75), mm(150)}, Lengths::millimetre) == "block 75 x 75 x 150 mm");
  CHECK(describe(Block{mm(75), mm(75), mm(150)}, Lengths::inch) == "block 2.95 x 2.95 x 5.91 in");
  CHECK(describe(Disc{mm(200), mm(40)}, Lengths::millimetre) == "disc 200 x 40 mm");
  CHECK(describe(Bar{mm(60), mm(90)}, Lengths::millimetre) == "bar 60 x 90 mm");
  CHECK(describe(Prism{mm(80)}, Lengths::millimetre) == "prism 80 mm");
}

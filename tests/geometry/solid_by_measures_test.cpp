#include "geometry/solid_by_measures.h"

#include "message_of.h"

#include <cmath>
#include <limits>
#include <string>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

Length mm(double length_mm) {
  return Length::from_mm(length_mm);
}

std::string message(const SolidByMeasures& solid) {
  return message_of([&] { check_measures(solid, {.source = "--size"}); });
}

}  // namespace

TEST_CASE("solid by measures: what no solid has is refused, what just fits is not") {
  CHECK(message(Vessel{mm(100), mm(80), mm(50), mm(10), Inside::open}) ==
        "--size: a wall of 50 mm leaves no hollow in a vessel 100 mm across; a wall is less than "
        "half the diameter, 50 mm; without a hollow it is a disc or a rod");
  CHECK(message(Vessel{mm(100), mm(80), mm(49.9), mm(10), Inside::open}) == "no error");
  CHECK(
      message(Vessel{mm(100), mm(80), mm(10), mm(80), Inside::open}) ==
      "--size: a bottom of 80 mm leaves no hollow in a vessel 80 mm high; write diameter x height "
      "x wall x bottom, the bottom less than the height");
  CHECK(message(Vessel{mm(100), mm(80), mm(10), mm(79.9), Inside::open}) == "no error");
  CHECK(
      message(Dome{mm(100), mm(51)}) ==
      "--size: a dome 100 mm across is at most 50 mm high, half a ball; 51 mm is more; write "
      "diameter x height; what is higher and flat beneath is nearest to a cone or a disc, or goes "
      "by a mesh");
  CHECK(message(Dome{mm(100), mm(50)}) == "no error");
  CHECK(message(Dome{Length::from_inch(6.3), Length::from_inch(3.15)}) == "no error");
  CHECK(message(Wedge{mm(300), mm(100), mm(20), mm(60)}) ==
        "--size: the thin end, 60 mm, is thicker than the thick one, 20 mm; write length x width x "
        "thick end x thin end");
  CHECK(message(Wedge{mm(300), mm(100), mm(60), mm(60)}) == "no error");
  CHECK(message(BossedDisc{mm(200), mm(30), mm(200), mm(40)}) ==
        "--size: a boss 200 mm across does not stand on a disc 200 mm across; write diameter x "
        "height x boss diameter x boss height; a boss as wide as the disc makes a disc of both "
        "heights");
  CHECK(message(BossedDisc{mm(200), mm(30), mm(199), mm(40)}) == "no error");
  CHECK(message(Dumbbell{mm(80), mm(60), mm(61), mm(20)}) ==
        "--size: a neck 61 mm across is wider than the lump of 60 mm; write one lump's diameter x "
        "the other's x the neck's x the neck's length");
  CHECK(message(Dumbbell{mm(80), mm(60), mm(60), mm(20)}) == "no error");
  CHECK(message(Cone{mm(80), mm(60)}) == "no error");
  const Length nan = mm(std::numeric_limits<double>::quiet_NaN());
  CHECK(message(Dome{mm(100), nan}) != "no error");
  CHECK(message(Dumbbell{mm(100), mm(100), nan, mm(10)}) != "no error");
  CHECK(message(Vessel{mm(100), mm(80), nan, mm(10), Inside::open}) != "no error");
}

// In the section: touching base, thick end and slope; 3, 4, 5 below.
TEST_CASE("solid by measures: the largest ball of a wedge") {
  // to a point nearly: the circle in a triangle 3, 4, 5 has radius 1
  CHECK(largest_ball(Wedge{mm(400), mm(900), mm(300), mm(1e-9)}).in_mm() == doctest::Approx(200.0));
  CHECK(largest_ball(Wedge{mm(400), mm(150), mm(300), mm(1)}).in_mm() == doctest::Approx(150.0));
  CHECK(largest_ball(Wedge{mm(40), mm(900), mm(300), mm(290)}).in_mm() == doctest::Approx(40.0));
  CHECK(largest_ball(Wedge{mm(400), mm(900), mm(30), mm(30)}).in_mm() == doctest::Approx(30.0));
}

TEST_CASE("solid by measures: no ball is wider than the measures allow") {
  const auto mm = [](double x) { return Length::from_mm(x); };
  constexpr double of_search = 1.001;  // the search ends within a thousandth
  for (const double a : {4.0, 20.0, 90.0}) {
    for (const double b : {4.0, 20.0, 90.0}) {
      const SolidByMeasures solids[] = {Vessel{mm(200.0), mm(250.0), mm(a), mm(b), Inside::open},
                                        Dome{mm(2.0 * a + b), mm(a)},
                                        Cone{mm(a), mm(b)},
                                        Wedge{mm(a), mm(200.0), mm(b), mm(0.5 * b)},
                                        BossedDisc{mm(200.0), mm(a), mm(50.0), mm(b)},
                                        Dumbbell{mm(a), mm(b), mm(3.0), mm(20.0)}};
      for (const SolidByMeasures& solid : solids) {
        CAPTURE(a);
        CAPTURE(b);
        CAPTURE(solid.index());
        CHECK(largest_ball(solid).in_m() <= of_search * no_ball_above(solid).in_m());
      }
    }
  }
}

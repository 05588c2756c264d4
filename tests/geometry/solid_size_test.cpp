#include "geometry/solid_size.h"

#include <string>

#include <doctest/doctest.h>

#include "message_of.h"

using namespace thickset;

namespace {

std::string sides_message(const Eigen::Vector3d& sides, Lengths unit) {
  return message_of([&] { check_sides(sides, unit, {"a.stl"}); });
}
std::string ball_message(double ball, const Eigen::Vector3d& sides, Lengths unit) {
  return message_of([&] { check_ball(ball, sides, unit, {"a.stl"}); });
}

}  // namespace

TEST_CASE("solid size: sides from 3 mm to 3 m are accepted, the ends too") {
  CHECK(sides_message({3.0, 1.0, 1.0}, Lengths::millimetre) == "no error");
  CHECK(sides_message({10.0, 3000.0, 1.0}, Lengths::millimetre) == "no error");
  CHECK(sides_message({118.0, 3.0, 3.0}, Lengths::inch) == "no error");
  CHECK(sides_message({2.99, 1.0, 1.0}, Lengths::millimetre) != "no error");
  CHECK(sides_message({10.0, 3001.0, 1.0}, Lengths::millimetre) != "no error");
  CHECK(sides_message({119.0, 3.0, 3.0}, Lengths::inch) != "no error");
  CHECK(sides_message({0.0, 0.0, 0.0}, Lengths::millimetre) != "no error");
}

TEST_CASE("solid size: balls from 3 mm to 1 m are accepted") {
  const Eigen::Vector3d sides{1500.0, 1500.0, 1500.0};
  CHECK(ball_message(3.0, sides, Lengths::millimetre) == "no error");
  CHECK(ball_message(1000.0, sides, Lengths::millimetre) == "no error");
  CHECK(ball_message(2.99, sides, Lengths::millimetre) != "no error");
  CHECK(ball_message(1001.0, sides, Lengths::millimetre) != "no error");
  CHECK(ball_message(0.0, sides, Lengths::millimetre) != "no error");
}

TEST_CASE("solid size: the other unit is offered only where it fits") {
  CHECK(ball_message(1.0, {3.0, 3.0, 1.0}, Lengths::millimetre)
            .find("in inch the piece would be 76.2 x 76.2 x 25.4 mm: say so") != std::string::npos);
  // In inches the ball would fit, but not the longest side.
  CHECK(ball_message(2.0, {300.0, 9.0, 2.0}, Lengths::millimetre)
            .find("in inch the piece would be 7620 x 228.6 x 50.8 mm, which does not fit either") !=
        std::string::npos);
}

TEST_CASE("solid size: a place is given in the file's unit, to a hundredth of a mm") {
  CHECK(place_in_file({0.0125, -0.003, 0.1}, Lengths::millimetre) == "(12.5, -3, 100) mm");
  CHECK(place_in_file({0.0254, 0.0, -1e-9}, Lengths::inch) == "(1, 0, 0) in");
  CHECK(place_in_file({100.123456, 0.0, 0.0}, Lengths::millimetre) == "(100123.46, 0, 0) mm");
}

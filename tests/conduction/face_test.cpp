#include "conduction/face.h"

#include <cmath>
#include <initializer_list>

#include <doctest/doctest.h>

using namespace thickset::conduction;

namespace {
constexpr double rounding = 1e-14;
}

// [CODATA18] sigma = 5.670374419e-8 W/(m2 K4), from which sigma T^4 at 1000 K = 56 703.74 W/m2.
TEST_CASE("face: a black surface at 0 K takes sigma T^4 from a kiln at 1000 K") {
  constexpr double half_last_digit = 0.005;
  CHECK(std::abs(Face::exchange(0.0, 1.0).heat_in_W_per_m2(1000.0, 0.0) - 56703.74) <=
        half_last_digit);
}

TEST_CASE("face: convection is the film coefficient times the difference") {
  CHECK(Face::exchange(8.0, 0.0).heat_in_W_per_m2(400.0, 300.0) == 800.0);
  CHECK(Face::exchange(8.0, 0.0).heat_in_W_per_m2(300.0, 400.0) == -800.0);
  CHECK(Face::exchange(8.0, 0.9).heat_in_W_per_m2(500.0, 500.0) == 0.0);
}

TEST_CASE("face: the exchange factor multiplies heat and stiffness alike") {
  Face face = Face::exchange(8.0, 0.9);
  const double heat = face.heat_in_W_per_m2(800.0, 700.0);
  const double stiffness = face.stiffness_W_per_m2_K(700.0);
  face.exchange_factor = 0.37;
  CHECK(std::abs(face.heat_in_W_per_m2(800.0, 700.0) - 0.37 * heat) <= rounding * heat);
  CHECK(std::abs(face.stiffness_W_per_m2_K(700.0) - 0.37 * stiffness) <= rounding * stiffness);
}

TEST_CASE("face: the stiffness is minus the slope of the heat") {
  const Face face = Face::exchange(8.0, 0.9);
  constexpr double h_K = 0.01;
  constexpr double central_difference_error = 1e-8;
  for (const double T_K : {250.0, 300.0, 800.0, 1100.0}) {
    CAPTURE(T_K);
    const double slope =
        (face.heat_in_W_per_m2(900.0, T_K + h_K) - face.heat_in_W_per_m2(900.0, T_K - h_K)) /
        (2.0 * h_K);
    const double stiffness = face.stiffness_W_per_m2_K(T_K);
    CHECK(std::abs(stiffness + slope) <= central_difference_error * stiffness);
  }
}

TEST_CASE("face: names give their kinds") {
  CHECK(Face::insulated().kind == Face::Kind::insulated);
  CHECK(Face::prescribed().kind == Face::Kind::prescribed);
  CHECK(Face::exchange(1.0, 0.5).kind == Face::Kind::exchange);
  CHECK(Face::insulated().stiffness_W_per_m2_K(500.0) == 0.0);
}

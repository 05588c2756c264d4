#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

#include "stress/light_seen.h"

using namespace thickset;

namespace {

constexpr double deg = std::numbers::pi / 180.0;
constexpr double nm = 1e-9;
constexpr double white_m = 565.0 * nm;

double of_turn_m(double turn_deg, double wavelength_m = white_m, int bands = 0) {
  return stress::retardation_of_turn_m(turn_deg * deg, 0.0, wavelength_m, bands).value;
}

}  // namespace

// [ASTM-C148], method B: apparent temper numbers by analyser turn, read in a page that quotes it.
TEST_CASE("temper number: the printed table of analyser turns, both ends of every row") {
  struct Row {
    int number;
    double from_deg, to_deg;
  };
  constexpr Row rows[] = {{1, 0.0, 7.3},
                          {2, 7.4, 14.5},
                          {3, 14.6, 21.8},
                          {4, 21.9, 29.0},
                          {5, 29.1, 36.3},
                          {6, 36.4, 43.6},
                          {7, 43.7, 50.8},
                          {8, 50.9, 58.1},
                          {9, 58.2, 65.4},
                          {10, 65.5, 72.6}};
  for (const Row& row : rows) {
    CAPTURE(row.number);
    CHECK(stress::apparent_temper_number(of_turn_m(row.from_deg)) == row.number);
    CHECK(stress::apparent_temper_number(of_turn_m(row.to_deg)) == row.number);
  }
}

TEST_CASE("temper number: n discs are number n, a little more is the next") {
  for (int n = 1; n <= 6; ++n) {
    CAPTURE(n);
    const double seen_m = stress::retardation_of_discs_m(n, 0.0).value;
    CHECK(stress::apparent_temper_number(seen_m) == n);
    CHECK(stress::apparent_temper_number(seen_m + 0.2 * nm) == n + 1);
  }
}

// [ASTM-C148]: T_R = T_A (4.06 mm / t) = T_A (0.160 in / t).
TEST_CASE("temper number: the real one goes with 4.06 mm over the thickness") {
  CHECK(stress::real_temper_number(5, 4.06e-3) == doctest::Approx(5.0));
  CHECK(stress::real_temper_number(5, 8.12e-3) == doctest::Approx(2.5));
  constexpr double printed_inch_rel_tol = 0.002;  // 0.160 in has three digits
  CHECK(stress::real_temper_number(5, 0.160 * 25.4e-3) ==
        doctest::Approx(5.0).epsilon(printed_inch_rel_tol));
}

// [ASTM-F218]: wavelength times turn over 180 degrees.
TEST_CASE("analyser turn: half a turn is a wavelength, whole bands are wavelengths") {
  CHECK(of_turn_m(180.0, 546.0 * nm) == doctest::Approx(546.0 * nm));
  CHECK(of_turn_m(0.0, 546.0 * nm, 2) == doctest::Approx(1092.0 * nm));
  CHECK(of_turn_m(34.0) == doctest::Approx(565.0 * nm * 34.0 / 180.0));
  const stress::Spread seen = stress::retardation_of_turn_m(34.0 * deg, 2.0 * deg, white_m, 0);
  CHECK(seen.low == doctest::Approx(of_turn_m(32.0)));
  CHECK(seen.high == doctest::Approx(of_turn_m(36.0)));
}

TEST_CASE("analyser turn: a reading below its error has zero as its lower end") {
  CHECK(stress::retardation_of_turn_m(1.0 * deg, 2.0 * deg, white_m, 0).low == 0.0);
  CHECK(stress::retardation_of_discs_m(0.0, 0.5).low == 0.0);
}

#include "material/thermal_law.h"

#include <array>
#include <cmath>
#include <initializer_list>
#include <limits>

#include <doctest/doctest.h>

using thickset::ThermalLaw;

namespace {

/// The published heat capacity of soda-lime glass in J/(kg K), which jumps at 850 K.
ThermalLaw soda_lime_heat_capacity() {
  return ThermalLaw{{{.from_K = 200, .to_K = 850, .a = 893, .b = 0.4, .c = -1.8e7},
                     {.from_K = 850, .to_K = 1500, .a = 1433, .b = 6.5e-3}}};
}

constexpr double rounding = 1e-13;

bool agrees(double value, double expected, double relative = rounding) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

/// Integral from 0 K by Simpson's rule over each stretch without a jump; below first_K the value
/// there holds.
double simpson(const ThermalLaw& law, double from_K, double to_K) {
  constexpr int parts = 2000;
  const double h_K = (to_K - from_K) / parts;
  double sum = law.at(from_K) + law.at(std::nextafter(to_K, from_K));
  for (int i = 1; i < parts; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * law.at(from_K + i * h_K);
  return sum * h_K / 3.0;
}

}  // namespace

TEST_CASE("thermal law: a constant is one everywhere and its integral a straight line") {
  const ThermalLaw law = ThermalLaw::constant(1.2);
  CHECK(law.is_constant());
  for (const double T_K : {0.5, 1.0, 300.0, 2999.0, 5000.0}) {
    CAPTURE(T_K);
    CHECK(law.at(T_K) == 1.2);
    CHECK(agrees(law.integral(T_K), 1.2 * T_K));
  }
}

TEST_CASE("thermal law: a table runs straight through its points") {
  constexpr std::array points{
      ThermalLaw::Point{300, 1.0}, ThermalLaw::Point{500, 1.2}, ThermalLaw::Point{900, 2.0}};
  const ThermalLaw law = ThermalLaw::table(points);
  CHECK_FALSE(law.is_constant());
  for (const auto& point : points) CHECK(agrees(law.at(point.T_K), point.value));
  CHECK(agrees(law.at(400), 1.1));
  CHECK(agrees(law.at(700), 1.6));
  // Trapezoids: 200 K x 1.1, 400 K x 1.6.
  CHECK(agrees(law.integral(500) - law.integral(300), 220.0));
  CHECK(agrees(law.integral(900) - law.integral(500), 640.0));
}

TEST_CASE("thermal law: outside its range the end value holds and covers() says so") {
  const ThermalLaw law = soda_lime_heat_capacity();
  CHECK(law.at(100) == law.at(200));
  CHECK(law.at(1900) == law.at(1500));
  CHECK(agrees(law.integral(1900) - law.integral(1500), 400.0 * law.at(1500)));
  CHECK(agrees(law.integral(200) - law.integral(50), 150.0 * law.at(200)));
  CHECK(law.integral(0) == 0.0);
  CHECK(law.covers(200));
  CHECK(law.covers(1500));
  CHECK_FALSE(law.covers(199.9));
  CHECK_FALSE(law.covers(1500.1));
  CHECK_FALSE(law.covers(std::numeric_limits<double>::quiet_NaN()));
}

// The law's constants are those of the tempering literature; the numbers are computed from it by
// hand, not published.
TEST_CASE("thermal law: soda-lime's heat capacity has the values its formula gives") {
  const ThermalLaw law = soda_lime_heat_capacity();
  constexpr double last_digit = 0.5;
  CHECK(std::abs(law.at(293) - 800.5) <= last_digit);
  CHECK(std::abs(law.at(773) - 1172.0) <= last_digit);
  CHECK(std::abs(law.at(std::nextafter(850.0, 0.0)) - 1208.0) <= last_digit);
  CHECK(std::abs(law.at(850) - 1438.5) <= last_digit);
}

TEST_CASE("thermal law: the integral agrees with Simpson's rule, across a jump too") {
  const ThermalLaw law = soda_lime_heat_capacity();
  constexpr double simpson_error = 1e-10;
  CHECK(agrees(law.integral(849) - law.integral(250), simpson(law, 250, 849), simpson_error));
  CHECK(agrees(law.integral(1200) - law.integral(300),
               simpson(law, 300, 850) + simpson(law, 850, 1200),
               simpson_error));
}

TEST_CASE("thermal law: a jump of the value leaves no jump in the integral") {
  const ThermalLaw law = soda_lime_heat_capacity();
  const double below_K = std::nextafter(850.0, 0.0);
  CHECK(agrees(law.integral(850), law.integral(below_K)));
  double before = law.integral(0);
  for (double T_K = 10; T_K < 2000; T_K += 10) {
    CAPTURE(T_K);
    CHECK(law.integral(T_K) > before);
    before = law.integral(T_K);
  }
}

TEST_CASE("thermal law: value() gives value and integral of the same temperature") {
  const ThermalLaw law = soda_lime_heat_capacity();
  for (const double T_K : {100.0, 300.0, 850.0, 1000.0, 2000.0}) {
    CHECK(law.value(T_K).at == law.at(T_K));
    CHECK(law.value(T_K).integral == law.integral(T_K));
  }
}

TEST_CASE("thermal law: NaN goes through as NaN") {
  CHECK(std::isnan(soda_lime_heat_capacity().at(std::numeric_limits<double>::quiet_NaN())));
}

#include "units/temperature.h"

#include <cmath>

#include <doctest/doctest.h>

#include "units/duration.h"
#include "units/length.h"
#include "units/rate.h"
#include "units/stress.h"

using namespace thickset;

namespace {

// A few roundings of doubles near 1000; the definitions below are exact.
constexpr double rounding = 1e-12 * 1000;

bool same(double a, double b) {
  return std::abs(a - b) <= rounding;
}

}  // namespace

TEST_CASE("temperature: the scales meet where their definitions say") {
  // [NISTSP811] Appendix B.8: t/degC = (t/degF - 32)/1.8; T/K = t/degC + 273.15.
  CHECK(same(Temperature::from_F(32.0).in_C(), 0.0));
  CHECK(same(Temperature::from_F(212.0).in_C(), 100.0));
  CHECK(same(Temperature::from_F(-40.0).in_C(), -40.0));
  CHECK(same(Temperature::from_C(0.0).in_K(), 273.15));
  CHECK(same(Temperature::from_C(516.0).in_F(), 960.8));
  CHECK(same(Temperature::from_K(0.0).in_F(), -459.67));
}

TEST_CASE("temperature: a difference never gets the 32 degrees of the scale") {
  const TemperatureDifference ten_C = Temperature::from_C(510.0) - Temperature::from_C(500.0);
  CHECK(same(ten_C.in_K(), 10.0));
  CHECK(same(ten_C.in_F(), 18.0));
  CHECK(same(difference_from_degrees(9.0, Degrees::fahrenheit).in_K(), 5.0));
  CHECK(same(in_degrees(ten_C, Degrees::fahrenheit), 18.0));
  CHECK(same((Temperature::from_F(100.0) + TemperatureDifference::from_F(9.0)).in_F(), 109.0));
  CHECK(same((Temperature::from_F(100.0) - TemperatureDifference::from_F(9.0)).in_F(), 91.0));
}

TEST_CASE("rate: 10 degrees C an hour are 18 degrees F an hour, never 50") {
  CHECK(same(Rate::from_K_per_h(10.0).in_F_per_h(), 18.0));
  CHECK(same(in_degrees_per_h(Rate::from_K_per_h(10.0), Degrees::fahrenheit), 18.0));
  CHECK(same(rate_from_degrees_per_h(18.0, Degrees::fahrenheit).in_K_per_h(), 10.0));
  CHECK(same(Rate::from_K_per_s(1.0).in_K_per_h(), 3600.0));
}

TEST_CASE("length: an inch is 25.4 mm") {
  // [NISTSP811] Appendix B.8: 1 inch = 2.54 E-02 m, exactly.
  CHECK(same(Length::from_inch(1.0).in_mm(), 25.4));
  CHECK(same(Length::from_mm(76.2).in_inch(), 3.0));
  CHECK(same(in_lengths(Length::from_m(0.0254), Lengths::inch), 1.0));
}

TEST_CASE("duration and stress: come out in the unit asked for") {
  CHECK(same(in_h(minutes(90.0)), 1.5));
  CHECK(same(in_s(hours(2.0)), 7200.0));
  CHECK(same(in_min(seconds(30.0)), 0.5));
  CHECK(same(Stress::from_Pa(3e6).in_MPa(), 3.0));
}

TEST_CASE("stress: what a person typed in MPa is the same number again") {
  for (const double stress_MPa : {0.2, 0.3, 0.7, 2.9, 3.0, 6.9, 7.0}) {
    CAPTURE(stress_MPa);
    CHECK(Stress::from_MPa(stress_MPa).in_MPa() == stress_MPa);
  }
}

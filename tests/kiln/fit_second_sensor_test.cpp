#include "kiln/fit_second_sensor.h"

#include <cmath>
#include <random>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

/// Air that falls at 60 K/h for five hours, then stays; every two minutes.
std::vector<Reading> air() {
  std::vector<Reading> readings;
  for (double t_min = 0.0; t_min <= 900.0; t_min += 2.0) {
    readings.push_back({60.0 * t_min, 800.0 - std::min(t_min, 300.0)});
  }
  return readings;
}

/// A load of one time constant in it, in closed form: behind a ramp of rate r by r tau (1 - exp).
std::vector<Reading> load(double tau_min, double offset_K) {
  std::vector<Reading> readings = air();
  for (Reading& reading : readings) {
    const double t_min = reading.time_s / 60.0;
    const double ramp_min = std::min(t_min, 300.0);
    double behind_K = tau_min * (1.0 - std::exp(-ramp_min / tau_min));
    if (t_min > 300.0) behind_K *= std::exp(-(t_min - 300.0) / tau_min);
    reading.T_K += behind_K + offset_K;
  }
  return readings;
}

}  // namespace

TEST_CASE("fit_second_sensor: lag and offset of a load come back") {
  for (const double tau_min : {10.0, 45.0, 120.0}) {
    CAPTURE(tau_min);
    const SecondSensor found = fit_second_sensor(air(), load(tau_min, -7.0));
    CHECK(std::abs(found.lag_s / (60.0 * tau_min) - 1.0) <= 0.002);
    CHECK(std::abs(found.offset_K + 7.0) <= 0.02);
  }
}

TEST_CASE("fit_second_sensor: beside the first there is an offset and no lag") {
  std::vector<Reading> shifted = air();
  std::mt19937_64 random{3};
  std::normal_distribution<double> noise_K{0.0, 0.5};
  for (Reading& reading : shifted) reading.T_K += 9.0 + noise_K(random);
  const SecondSensor found = fit_second_sensor(air(), shifted);
  CHECK(std::abs(found.offset_K - 9.0) <= 0.1);
  CHECK(found.lag_s <= 30.0);
  CHECK(found.rms_K <= 0.6);
  CHECK(found.offset_doubt_K <= 0.1);
}

TEST_CASE("fit_second_sensor: with noise, the true lag lies within four of its standard errors") {
  std::mt19937_64 random{5};
  std::normal_distribution<double> noise_K{0.0, 2.0};
  std::vector<Reading> noisy = load(45.0, 3.0);
  for (Reading& reading : noisy) reading.T_K += noise_K(random);
  const SecondSensor found = fit_second_sensor(air(), noisy);
  CHECK(std::abs(found.lag_s - 2700.0) <= 4.0 * found.lag_doubt_s);
  CHECK(found.lag_doubt_s > 0.0);
  CHECK(found.lag_doubt_s < 120.0);
}

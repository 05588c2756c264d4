#include "schedule/frozen_readings.h"

#include <cmath>
#include <random>
#include <vector>

#include <doctest/doctest.h>

#include "schedule/faulty_readings.h"

using namespace thickset;
using Case = FaultyReadings;

TEST_CASE("log faults: a reading that stands still and then jumps was frozen") {
  std::vector<double> values;
  for (int i = 0; i < 20; ++i) values.push_back(500.0 - 2.0 * i);
  for (int i = 0; i < 15; ++i) values.push_back(462.0);
  for (int i = 35; i < 60; ++i) values.push_back(500.0 - 2.0 * i);
  Case log{values, 60.0};
  leave_out_frozen(log.sensor, log.time_s, log.line, log.remarks);
  CHECK(log.left_out() == 15);  // all but the first 462
  const auto said = log.remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::frozen);
}

TEST_CASE("log faults: a hold in whole degrees that ends in a fall was not frozen") {
  std::vector<double> values(180, 513.0);
  for (int i = 1; i < 60; ++i) values.push_back(513.0 - 4.0 * i);
  Case log{values, 60.0};
  leave_out_frozen(log.sensor, log.time_s, log.line, log.remarks);
  CHECK(log.left_out() == 0);
  CHECK(log.remarks.take().empty());
}

TEST_CASE("log faults: a restless sensor that stands still for long was frozen, a quiet one not") {
  std::mt19937 random{7};
  std::normal_distribution<double> noise{0.0, 0.6};
  std::vector<double> restless;
  for (int i = 0; i < 400; ++i) {
    const bool still = i >= 200 && i < 300;
    restless.push_back(still ? 513.2 : std::round((513.0 + noise(random)) * 10.0) / 10.0);
  }
  Case log{restless, 10.0};
  leave_out_frozen(log.sensor, log.time_s, log.line, log.remarks);
  CHECK(log.left_out() >= 99);
  CHECK(log.left_out() <= 101);

  Case quiet{std::vector<double>(400, 513.0), 10.0};
  leave_out_frozen(quiet.sensor, quiet.time_s, quiet.line, quiet.remarks);
  CHECK(quiet.left_out() == 0);
}

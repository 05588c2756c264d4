#include "schedule/log_faults.h"

#include <cmath>
#include <limits>

#include <doctest/doctest.h>

#include "schedule/faulty_readings.h"

using namespace thickset;
using Case = FaultyReadings;

namespace {

constexpr double no_reading = std::numeric_limits<double>::quiet_NaN();

constexpr double within_K = 1e-6;

}  // namespace

TEST_CASE("log faults: numbers that stand for no reading are left out, each said once") {
  for (const double code : {0.0, -1.0, 9999.0, -200.0, 32767.0}) {
    CAPTURE(code);
    Case log{{513, 512, code, code, 511, 510}, 60.0};
    leave_out_codes(log.sensor, log.line, log.remarks);
    CHECK(log.left_out() == 2);
    CHECK(std::isnan(log.sensor.T_K[2]));
    const auto said = log.remarks.take();
    REQUIRE(said.size() == 1);
    CHECK(said[0].fault == LogFault::missing);
    CHECK(said[0].line == 4);
    CHECK(said[0].text.find("lines 4 to 5: air_C reads") == 0);
  }
}

TEST_CASE("log faults: a cold kiln near 0 C is no missing reading") {
  Case log{{4, 2, 0, -1, 0, 3}, 600.0};
  leave_out_codes(log.sensor, log.line, log.remarks);
  CHECK(log.left_out() == 0);
  CHECK(log.remarks.take().empty());
}

TEST_CASE("log faults: the ends of the range are readings, beyond them are none") {
  Case log{{1400.0, 1399.0, 1401.0, -30.0, -31.0}, 3600.0};
  leave_out_codes(log.sensor, log.line, log.remarks);
  CHECK(std::isnan(log.sensor.T_K[2]));
  CHECK(std::isnan(log.sensor.T_K[4]));
  CHECK(log.left_out() == 2);
}

TEST_CASE("log faults: a run in the other degrees is turned into the header's") {
  // 950 F is 510 C.
  Case in_C{{513, 512, 511, 950, 948, 946, 507, 506}, 600.0};
  turn_other_degrees(in_C.sensor, in_C.time_s, in_C.line, in_C.remarks);
  CHECK(std::abs(in_C.at(3) - 510.0) < within_K);
  CHECK(std::abs(in_C.at(6) - 507.0) < within_K);
  const auto said = in_C.remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::other_degrees);
  CHECK(said[0].text.find("lines 5 to 7") == 0);

  Case in_F{{955, 953, 510, 509, 508, 945, 943}, 600.0, Degrees::fahrenheit};
  turn_other_degrees(in_F.sensor, in_F.time_s, in_F.line, in_F.remarks);
  CHECK(std::abs(in_F.at(2) - 950.0) < within_K);
  CHECK(in_F.remarks.take().size() == 1);

  // To the end, and from the start.
  Case to_the_end{{513, 512, 511, 950, 948, 946}, 600.0};
  turn_other_degrees(to_the_end.sensor, to_the_end.time_s, to_the_end.line, to_the_end.remarks);
  CHECK(to_the_end.at(5) < 513.0);
  Case from_the_start{{955, 953, 511, 510, 509, 508}, 600.0};
  turn_other_degrees(
      from_the_start.sensor, from_the_start.time_s, from_the_start.line, from_the_start.remarks);
  CHECK(from_the_start.at(0) < 513.0);
}

TEST_CASE("log faults: hourly readings in the other degrees are turned where they come back") {
  Case comes_back{{513, 505, 923, 487, 478}, 3600.0};  // 923 F is 495 C
  turn_other_degrees(comes_back.sensor, comes_back.time_s, comes_back.line, comes_back.remarks);
  CHECK(std::abs(comes_back.at(2) - 495.0) < within_K);
  // Where they do not, a kiln may have been heated: said, and left.
  Case stays{{513, 505, 923, 905}, 3600.0};
  turn_other_degrees(stays.sensor, stays.time_s, stays.line, stays.remarks);
  CHECK(stays.at(2) == doctest::Approx(923.0));
  const auto said = stays.remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].text.find("taken as it stands") != std::string::npos);
}

TEST_CASE("log faults: heating and crash cooling are not taken for other degrees") {
  Case log{{20, 120, 220, 320, 420, 520, 620, 720, 800, 800, 650, 560, 513}, 1200.0};
  const std::vector<double> before = log.sensor.T_K;
  turn_other_degrees(log.sensor, log.time_s, log.line, log.remarks);
  CHECK(log.sensor.T_K == before);
  CHECK(log.remarks.take().empty());
}

TEST_CASE("log faults: a spike of up to three readings is left out") {
  Case log{{513, 513, 560, 565, 513, 512, 460, 512, 512}, 60.0};
  leave_out_spikes(log.sensor, log.time_s, log.line, log.remarks);
  CHECK(log.left_out() == 3);
  CHECK(std::isnan(log.sensor.T_K[2]));
  CHECK(std::isnan(log.sensor.T_K[3]));
  CHECK(std::isnan(log.sensor.T_K[6]));
  CHECK(log.remarks.take().size() == 2);
}

TEST_CASE("log faults: a step that stays, and 14 K of unrest, are no spikes") {
  Case step{{513, 513, 560, 562, 561, 560, 559}, 60.0};
  leave_out_spikes(step.sensor, step.time_s, step.line, step.remarks);
  CHECK(step.left_out() == 0);
  Case unrest{{513, 527, 513, 499, 513, 513}, 60.0};
  leave_out_spikes(unrest.sensor, unrest.time_s, unrest.line, unrest.remarks);
  CHECK(unrest.left_out() == 0);
  CHECK(unrest.remarks.take().empty());
}

TEST_CASE("log faults: a first or last reading far off its neighbour is left out") {
  Case log{{51, 513, 513, 512, 512, 51}, 60.0};
  leave_out_spikes(log.sensor, log.time_s, log.line, log.remarks);
  CHECK(std::isnan(log.sensor.T_K.front()));
  CHECK(std::isnan(log.sensor.T_K.back()));
  CHECK(log.left_out() == 2);
}

TEST_CASE("log faults: a second sensor 14 K above the first is told, one 3 K above is not") {
  std::vector<double> air;
  std::vector<double> high;
  std::vector<double> near;
  for (int i = 0; i < 40; ++i) {
    air.push_back(i < 30 ? 513.0 : 513.0 - 10.0 * (i - 30));
    high.push_back(air.back() + 14.0);
    near.push_back(air.back() + 3.0);
  }
  Case used{air, 600.0};
  Case other{high, 600.0};
  other.sensor.name = "second_C";
  compare_sensors(used.sensor, other.sensor, used.time_s, used.remarks);
  const auto said = used.remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::sensors_disagree);
  CHECK(said[0].text.find("second_C reads 14 °C above air_C") == 0);
  const Case close{near, 600.0};
  compare_sensors(used.sensor, close.sensor, used.time_s, used.remarks);
  CHECK(used.remarks.take().empty());
}

TEST_CASE("log faults: a gap is told, hourly readings by hand are none") {
  LogRemarks remarks;
  const std::vector<double> T_K(5, 700.0);
  const std::vector<int> line = {2, 3, 4, 5, 6};
  const std::vector<double> with_gap = {0.0, 60.0, 120.0, 2820.0, 2880.0};
  CHECK(remark_gaps(with_gap, T_K, line, Degrees::celsius, remarks) == 2700.0);
  const auto said = remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::gap);
  CHECK(said[0].text.find("lines 4 to 5: no reading for 45 min") == 0);
  const std::vector<double> hourly = {0.0, 3600.0, 7200.0, 14400.0, 18000.0};
  CHECK(remark_gaps(hourly, T_K, line, Degrees::celsius, remarks) == 0.0);
  CHECK(remarks.take().empty());
}

TEST_CASE("log remarks: of one kind four are kept and the rest counted") {
  LogRemarks remarks;
  for (int i = 1; i <= 10; ++i) remarks.add(LogFault::spike, i, "spike");
  const auto said = remarks.take();
  REQUIRE(said.size() == 4);
  CHECK(said.back().text == "spike; 6 more such, the last at line 10");
}

TEST_CASE("log faults: nothing to do with readings that are all missing") {
  Case log{{513, 513, 513}, 60.0};
  log.sensor.T_K.assign(3, no_reading);
  leave_out_codes(log.sensor, log.line, log.remarks);
  turn_other_degrees(log.sensor, log.time_s, log.line, log.remarks);
  leave_out_spikes(log.sensor, log.time_s, log.line, log.remarks);
  compare_sensors(log.sensor, log.sensor, log.time_s, log.remarks);
  CHECK(log.remarks.take().empty());
}

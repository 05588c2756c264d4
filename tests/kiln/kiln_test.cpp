#include "kiln/kiln.h"

#include <cmath>

#include <doctest/doctest.h>

#include "base/data_folder.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

Temperature C(double t_C) {
  return Temperature::from_C(t_C);
}

std::string reading(const std::string& lines) {
  const TemporaryFolder folder;
  const std::string path = folder.file("own.kiln", lines);
  std::string message = message_of([&] { read_kiln(path); });
  for (std::size_t at = message.find(folder.path()); at != message.npos;
       at = message.find(folder.path())) {
    message.erase(at, folder.path().size() + 1);
  }
  return message;
}

}  // namespace

TEST_CASE("kiln file: only the natural cooling is needed, the rest is assumed and listed") {
  const TemporaryFolder folder;
  const Kiln kiln =
      read_kiln(folder.file("own.kiln", "natural_cooling = 800C 320C/h, 932 F 234 F/h\n"));
  CHECK(kiln.name == "own");
  CHECK(kiln.natural_cooling.rate_at(C(500.0)).in_K_per_h() ==
        doctest::Approx(130.0).epsilon(1e-9));
  CHECK(kiln.natural_cooling.room() == C(20.0));
  REQUIRE(kiln.assumed.size() == 4);
  CHECK(kiln.assumed[0] == "kiln room: 20 C (assumed)");
  CHECK(kiln.assumed[3] == "kiln emissivity: 0.9 (assumed)");
}

TEST_CASE("kiln file: each bad value has its message, all at once") {
  CHECK(reading("title = x\n") ==
        "own.kiln: natural_cooling is missing; write pairs such as 800 C 320 C/h, 500 C 130 C/h, "
        "from a log with the elements off");
  CHECK(reading("natural_cooling = 800 C 320 C/h, 500 C\nemissivity = 1.5\nrom = 20 C\n") ==
        "own.kiln:3:1: \"rom\" is not a known key; did you mean room?\n"
        "own.kiln:1:19: \"500 C\" is not a temperature and a rate; write pairs such as 800 C 320 "
        "C/h, 500 C 130 C/h, from a log with the elements off\n"
        "own.kiln:2:14: emissivity 1.5 is outside 0 to 1; check the digits and the unit");
  CHECK(reading("natural_cooling = 8000 C 320 C/h\n") ==
        "own.kiln:1:19: \"8000 C 320 C/h\" is above 1400 C; check the digits and the degrees");
  CHECK(reading("natural_cooling = 800 C -320 C/h\n").find("a rate of falling lies between") !=
        std::string::npos);
  CHECK(reading("natural_cooling = 800 C 0 C/h\n").find("a rate of falling lies between") !=
        std::string::npos);
  CHECK(reading("natural_cooling = 800 C 320 C/h, 20 C 5 C/h\n") ==
        "own.kiln:1:19: the point at 20 C is not above the room of 20 C; leave it out, the kiln "
        "slows towards the room by itself");
  CHECK(reading("natural_cooling = 80 C 5 C/h\n") ==
        "own.kiln:1:19: no point is at 100 C or above; add points of the hot kiln");
  CHECK(reading("natural_cooling = 800 C 320 C/h, 800 C 300 C/h\n") ==
        "own.kiln:1:19: two points at 800 C; leave one of them out");
  const std::string good = "natural_cooling = 800 C 320 C/h\n";
  CHECK(reading(good + "room = 100 C\n") ==
        "own.kiln:2:8: room 100 C is outside -20 to 60 C; check the digits and the unit");
  CHECK(reading(good + "fastest_heating = 0 C/h\n").find("fastest_heating 0 C/h is outside") !=
        std::string::npos);
  CHECK(reading(good + "film_coefficient = 1000 W/(m2 K)\n")
            .find("film_coefficient 1000 W/(m2 K) is outside 0.1 to 200 W/(m2 K)") !=
        std::string::npos);
}

TEST_CASE("kiln file: hostile numbers are refused, not followed") {
  for (const char* const bad : {"nan C 320 C/h",
                                "800 C inf C/h",
                                "800 C 1e300 C/h",
                                ",",
                                "800",
                                "800 320",
                                "C C/h",
                                "800 C 320",
                                "1e308 C 5 C/h",
                                "800 C 320 C/h,"}) {
    CAPTURE(bad);
    CHECK(reading(std::string{"natural_cooling = "} + bad + "\n") != "no error");
  }
}

TEST_CASE("shipped kilns: both read, say that they are assumed, and the fibre one falls faster") {
  const std::string data = THICKSET_SOURCE "/data";
  for (const std::string& name : data_names(data, "kilns", "kiln")) {
    CHECK(read_kiln(data + "/kilns/" + name + ".kiln").title.find("assumed, for demonstration") !=
          std::string::npos);
  }
  const Kiln brick = read_kiln(data + "/kilns/middling-brick.kiln");
  const Kiln fibre = read_kiln(data + "/kilns/small-fibre.kiln");
  for (const double t_C : {50.0, 100.0, 300.0, 500.0, 800.0}) {
    CHECK(fibre.natural_cooling.rate_at(C(t_C)) > brick.natural_cooling.rate_at(C(t_C)));
  }
}

// ASTM E230, initial tolerances of type K thermocouples, standard grade: the greater of 2.2 C and
// 0.75 % of the reading. From a page that quotes it; 3.87, 4.20 and the crossing are arithmetic.
TEST_CASE("sensor tolerance: standard grade type K") {
  constexpr double half_last_printed_digit = 0.5e-2;
  CHECK(std::abs(sensor_tolerance(C(516.0)).in_K() - 3.87) <= half_last_printed_digit);
  CHECK(std::abs(sensor_tolerance(C(560.0)).in_K() - 4.20) <= half_last_printed_digit);
  CHECK(sensor_tolerance(C(293.0)).in_K() == 2.2);
  CHECK(sensor_tolerance(C(294.0)).in_K() > 2.2);
  CHECK(sensor_tolerance(C(20.0)).in_K() == 2.2);
}

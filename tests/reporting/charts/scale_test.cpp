#include "reporting/charts/scale.h"

#include <cmath>

#include <doctest/doctest.h>

using namespace thickset;

TEST_CASE("ticks: at most so many, within the range, apart by 1, 2 or 5 times a power of ten") {
  for (const double low : {-273.0, -1.7, 0.0, 0.003, 35.0}) {
    for (const double length : {1e-4, 0.037, 1.0, 7.3, 72.1, 800.0, 1e6}) {
      for (const int most : {2, 3, 5, 9}) {
        CAPTURE(low);
        CAPTURE(length);
        CAPTURE(most);
        const std::vector<double> ticks = nice_ticks({low, low + length}, most);
        REQUIRE(ticks.size() <= static_cast<std::size_t>(most));
        for (const double tick : ticks) {
          CHECK(tick >= low - 1e-9 * length);
          CHECK(tick <= low + length + 1e-9 * length);
        }
        if (ticks.size() < 2) continue;
        const double apart = ticks[1] - ticks[0];
        double digit = apart / std::pow(10.0, std::floor(std::log10(apart) + 1e-6));
        CHECK((std::abs(digit - 1.0) < 1e-3 || std::abs(digit - 2.0) < 1e-3 ||
               std::abs(digit - 5.0) < 1e-3));
      }
    }
  }
  CHECK(nice_ticks({0.0, 3.6}, 5) == std::vector<double>{0.0, 1.0, 2.0, 3.0});
  CHECK(decimals_of(nice_ticks({0.0, 0.9}, 5)) == 1);
  CHECK(decimals_of(nice_ticks({0.0, 90.0}, 5)) == 0);
}

TEST_CASE("ticks of hours: parts of an hour or of a day, then days") {
  CHECK(hour_ticks({0.0, 72.0}, 9) == std::vector<double>{0, 12, 24, 36, 48, 60, 72});
  CHECK(hour_ticks({0.0, 1.0}, 5) == std::vector<double>{0.0, 0.25, 0.5, 0.75, 1.0});
  for (const double end_h : {0.01, 5.0, 100.0, 2400.0, 24000.0}) {
    for (const int most : {2, 9, 24}) {
      CHECK(hour_ticks({0.0, end_h}, most).size() <= static_cast<std::size_t>(most));
    }
  }
  const std::vector<double> days = hour_ticks({0.0, 2400.0}, 9);
  CHECK(days[1] == doctest::Approx(480.0));
}

TEST_CASE("scale: its ends are where they were put") {
  const Scale scale{{20.0, 800.0}, 270.0, 44.0};
  CHECK(scale.at(20.0) == 270.0);
  CHECK(scale.at(800.0) == 44.0);
  CHECK(scale.at(410.0) == doctest::Approx(157.0));
}

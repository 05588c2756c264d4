#include "schedule/log_clock.h"

#include <doctest/doctest.h>

using namespace thickset;

namespace {

const LogClock dated{std::chrono::local_days{std::chrono::year{2026} / 11 / 28} +
                         std::chrono::hours{22} + std::chrono::minutes{10},
                     true};
const LogClock time_of_day{std::chrono::local_seconds{std::chrono::hours{22}}, false};

}  // namespace

TEST_CASE("moments of a log: with its date, its day, or since the start") {
  CHECK(moment(dated, 0.0) == "Sat 2026-11-28 22:10");
  CHECK(moment(dated, 2.0 * 3600.0) == "Sun 2026-11-29 00:10");
  CHECK(short_moment(dated, 29.0) == "Sat 22:10");
  CHECK(short_moment(dated, 31.0) == "Sat 22:11");
  CHECK(moment(time_of_day, 0.0) == "day 1 22:00");
  CHECK(short_moment(time_of_day, 26.5 * 3600.0) == "day 3 00:30");
  CHECK(moment(std::nullopt, 50.0 * 60.0) == "50 min");
  CHECK(moment(std::nullopt, 125.0 * 60.0) == "2 h 05 min");
}

TEST_CASE("two moments of a log: the day is not said twice") {
  CHECK(span_of_time(dated, 0.0, 3600.0) == "Sat 22:10 to 23:10");
  CHECK(span_of_time(dated, 0.0, 7200.0) == "Sat 22:10 to Sun 00:10");
  // A week later is not the same Saturday.
  CHECK(span_of_time(dated, 0.0, 7.0 * 86'400.0) == "Sat 22:10 to Sat 22:10");
  CHECK(span_of_time(std::nullopt, 0.0, 7200.0) == "0 min to 2 h 00 min");
}

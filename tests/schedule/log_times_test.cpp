#include "schedule/log_times.h"

#include <cmath>
#include <limits>

#include <doctest/doctest.h>

#include "message_of.h"

using namespace thickset;

namespace {

constexpr double day_s = 86'400.0;

/// Times of one form with a falling kiln beside them, 10 K an hour by the true time.
std::vector<double> run(LogTimeForm form,
                        const std::vector<double>& written_h,
                        const std::vector<double>& T_C,
                        LogRemarks& remarks) {
  RawTimes times{.form = form, .written_s = {}, .line = {}};
  std::vector<double> T_K;
  for (std::size_t i = 0; i < written_h.size(); ++i) {
    times.written_s.push_back(3600.0 * written_h[i]);
    times.line.push_back(static_cast<int>(i) + 2);
    T_K.push_back(Temperature::from_C(T_C.empty() ? 500.0 : T_C[i]).in_K());
  }
  std::vector<double> time_s = continuous_times(times, T_K, "log.csv", remarks);
  for (double& t : time_s) t /= 3600.0;
  return time_s;
}

using Hours = std::vector<double>;

}  // namespace

TEST_CASE("log times: a date and time is read with its zone, its seconds and their decimals") {
  const auto epoch = parse_dated_time("1970-01-01T00:00");
  REQUIRE(epoch);
  CHECK(epoch->local_s == 0.0);
  CHECK(!epoch->zone_min);
  CHECK(parse_dated_time("1970-01-02 00:00:01.25")->local_s == day_s + 1.25);
  // From 1970 to 2000: 30 years with 7 leap days; then 31 + 29 days to the first of March.
  CHECK(parse_dated_time("2000-03-01T00:00")->local_s == (30 * 365 + 7 + 60) * day_s);
  CHECK(parse_dated_time("1969-12-31T23:59:59")->local_s == -1.0);
  CHECK(parse_dated_time("2026-11-28T09:40Z")->zone_min == 0);
  CHECK(parse_dated_time("2026-11-28T09:40+0530")->zone_min == 330);
  CHECK(parse_dated_time("2026-11-28T09:40 -03:30")->zone_min == -210);
  CHECK(parse_dated_time("2026-11-28T09:40+01")->zone_min == 60);
}

TEST_CASE("log times: what is no date and time is none") {
  for (const char* text : {"",
                           "2026-02-29T09:40",  // no leap year
                           "2026-13-01T09:40",
                           "2026-00-10T09:40",
                           "28-11-2026 09:40",
                           "11/28/2026 09:40",
                           "2026-11-28",
                           "2026-11-28T24:00",
                           "2026-11-28T09:60",
                           "2026-11-28T09:40:60",
                           "2026-11-28T09:40:05.",
                           "2026-11-28T09:40+15:00",
                           "2026-11-28T09:40+01:60",
                           "2026-11-28T09:40 later",
                           "1899-11-28T09:40",
                           "-026-11-28T09:40"}) {
    CAPTURE(text);
    CHECK(!parse_dated_time(text));
  }
  CHECK(parse_dated_time("2024-02-29T09:40"));
}

TEST_CASE("log times: a time of day may have one digit, seconds and am or pm") {
  CHECK(parse_clock_time("9:40") == 9.0 * 3600 + 40 * 60);
  CHECK(parse_clock_time("21:40:30") == 21.0 * 3600 + 40 * 60 + 30);
  CHECK(parse_clock_time("12:05 am") == 5.0 * 60);
  CHECK(parse_clock_time("12:05pm") == 12.0 * 3600 + 5 * 60);
  for (const char* text :
       {"", "9", "9.40", "24:00", "9:5", "13:00 pm", "0:10 am", "9:40 o'clock"}) {
    CAPTURE(text);
    CHECK(!parse_clock_time(text));
  }
}

TEST_CASE("log times: a time of day that passes midnight is the next day, without a remark") {
  LogRemarks remarks;
  CHECK(run(LogTimeForm::clock, {22.0, 23.5, 1.0, 23.0, 2.0}, {}, remarks) ==
        Hours{0.0, 1.5, 3.0, 25.0, 28.0});
  CHECK(remarks.take().empty());
}

TEST_CASE("log times: a clock put back by an hour is seen and made good") {
  LogRemarks remarks;
  CHECK(run(LogTimeForm::dated, {1.0, 1.5, 2.0, 2.5, 2.0, 2.5, 3.0}, {}, remarks) ==
        Hours{0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0});
  auto said = remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::clock_change);
  CHECK(said[0].line == 6);

  // Without dates only in a logger's log: a reading every eighth of an hour.
  CHECK(run(LogTimeForm::clock, {2.75, 2.875, 2.0, 2.125, 2.25}, {}, remarks) ==
        Hours{0.0, 0.125, 0.25, 0.375, 0.5});
  said = remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::clock_change);
  CHECK(said[0].line == 4);
}

TEST_CASE("log times: in a log kept by hand an earlier time of day is the next day, however near") {
  struct Kept {
    Hours written_h, time_h;
    std::size_t said;
  };
  for (const Kept& kept : {Kept{{18, 19.5, 23, 21, 9.5, 21, 9}, {0, 1.5, 5, 27, 39.5, 51, 63}, 2},
                           Kept{{20, 9}, {0, 13}, 1},
                           Kept{{20, 19}, {0, 23}, 1},
                           Kept{{18, 17, 16}, {0, 23, 46}, 2},
                           Kept{{8, 9.5, 14, 8, 20, 19}, {0, 1.5, 6, 24, 36, 59}, 2}}) {
    LogRemarks remarks;
    CHECK(run(LogTimeForm::clock, kept.written_h, {}, remarks) == kept.time_h);
    const auto said = remarks.take();
    CHECK(said.size() == kept.said);
    for (const LogRemark& remark : said) CHECK(remark.fault == LogFault::next_day);
  }
}

TEST_CASE("log times: a logger's rows from new to old are no days") {
  LogRemarks remarks;
  Hours backwards_h;
  for (int i = 0; i < 30; ++i) backwards_h.push_back(20.0 - i / 120.0);
  const std::string refusal =
      message_of([&] { run(LogTimeForm::clock, backwards_h, {}, remarks); });
  CHECK(refusal.find("log.csv:3: the times run backwards from here on; ") == 0);
}

TEST_CASE(
    "log times: a clock put forward shows where the readings go on, not where one is missing") {
  const Hours clock_h = {0.0, 0.5, 1.0, 1.5, 3.0, 3.5, 4.0, 4.5};
  LogRemarks remarks;
  // 10 K an hour: the hour from 1.5 to 3 never was.
  CHECK(run(LogTimeForm::dated, clock_h, {500, 495, 490, 485, 480, 475, 470, 465}, remarks) ==
        Hours{0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5});
  const auto said = remarks.take();
  REQUIRE(said.size() == 1);
  CHECK(said[0].fault == LogFault::clock_change);

  // The same clock, with two readings missing.
  CHECK(run(LogTimeForm::dated, clock_h, {500, 495, 490, 485, 470, 465, 460, 455}, remarks) ==
        clock_h);
  CHECK(remarks.take().empty());
  // A level kiln tells nothing: nothing is changed.
  CHECK(run(LogTimeForm::dated, clock_h, {}, remarks) == clock_h);
  CHECK(remarks.take().empty());
}

TEST_CASE("log times: with a zone, or since the start, no clock can be changed") {
  LogRemarks remarks;
  for (const LogTimeForm form : {LogTimeForm::zoned, LogTimeForm::elapsed}) {
    const Hours time_h = run(form, {1.0, 1.5, 2.0, 2.5, 2.0, 3.0}, {}, remarks);
    CHECK(std::isnan(time_h[4]));
    CHECK(time_h[5] == 2.0);
    const auto said = remarks.take();
    REQUIRE(said.size() == 1);
    CHECK(said[0].fault == LogFault::reversed_time);
  }
}

TEST_CASE("log times: one stray row is left out, a log that runs backwards is refused") {
  LogRemarks remarks;
  const Hours time_h = run(LogTimeForm::elapsed, {0, 1, 2, 1.2, 3}, {}, remarks);
  CHECK(std::isnan(time_h[3]));
  CHECK(time_h[4] == 3.0);
  CHECK(remarks.take().size() == 1);
  const std::string refusal = message_of([&] {
    run(LogTimeForm::elapsed, {0, 1, 2, 3, 0, 0.5, 1, 1.5, 2, 2.5}, {}, remarks);
  });
  CHECK(refusal.find("log.csv:6: the times run backwards from here on; ") == 0);
}

TEST_CASE("log times: over 1000 days is refused, just under is not") {
  LogRemarks remarks;
  CHECK(run(LogTimeForm::elapsed, {0.0, 23'990.0}, {}, remarks).back() == 23'990.0);
  const std::string refusal = message_of([&] {
    run(LogTimeForm::elapsed, {0.0, 24'010.0}, {}, remarks);
  });
  CHECK(refusal.find("log.csv:3: the log is longer than 1000 days; ") == 0);
}

TEST_CASE("typical step: the middle one of those that rise") {
  CHECK(typical_step(Hours{0, 1, 2, 10, 11}) == 1.0);
  CHECK(typical_step(Hours{5, 5, 5}) == 0.0);
  CHECK(typical_step(Hours{}) == 0.0);
}

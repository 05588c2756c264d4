#include "schedule/read_log.h"

#include <chrono>
#include <cmath>
#include <random>
#include <string>

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "message_of.h"
#include "slow_build.h"

using namespace thickset;

namespace {

constexpr double within_K = 1e-9;

FiringLog parsed(const std::string& text, const std::string& sensor = "") {
  return parse_log(text, "log.csv", sensor);
}
std::string refusal(const std::string& text, const std::string& sensor = "") {
  return message_of([&] { parsed(text, sensor); });
}
std::vector<double> in_C(const FiringLog& log) {
  std::vector<double> T_C;
  for (const double T_K : log.T_K) T_C.push_back(std::round((T_K - 273.15) * 1e6) * 1e-6);
  return T_C;
}
bool said(const FiringLog& log, LogFault fault) {
  for (const LogRemark& remark : log.remarks) {
    if (remark.fault == fault) return true;
  }
  return false;
}

using Values = std::vector<double>;

}  // namespace

TEST_CASE("read log: every way to write the time gives the same log") {
  const Values hours_s = {0.0, 3600.0, 9000.0};
  for (const char* text : {"hours,air_C\n0,513\n1,512\n2.5,500\n",
                           "minutes,air_C\n0,513\n60,512\n150,500\n",
                           "minutes,air_C\n30,513\n90,512\n180,500\n",
                           "seconds,air_C\n0,513\n3600,512\n9000,500\n",
                           "clock,air_C\n22:30,513\n23:30,512\n01:00,500\n",
                           "clock,air_C\n10:30 pm,513\n11:30 pm,512\n1:00 am,500\n",
                           "time,air_C\n22:30,513\n23:30,512\n01:00,500\n",
                           "date,time,air_C\n2026-11-28,22:30,513\n2026-11-28,23:30,512\n"
                           "2026-11-29,01:00,500\n",
                           "date,clock,air_C\n2026-11-28,22:30,513\n2026-11-28,23:30,512\n"
                           "2026-11-29,01:00,500\n",
                           "time,air_C\n2026-11-28T22:30,513\n2026-11-28T23:30,512\n"
                           "2026-11-29T01:00,500\n",
                           "time,air_C\n2026-11-28 22:30+01:00,513\n2026-11-28 22:30Z,512\n"
                           "2026-11-29T00:00Z,500\n",
                           "time;air_C\r\n2026-11-28T22:30;513,0\r\n2026-11-28T23:30;512,0\r\n"
                           "2026-11-29T01:00;500,0\r\n",
                           "hours\tair_C\n0\t513\n1\t512\n2,5\t500\n",
                           "hours,air_F\n0,955.4\n1,953.6\n2.5,932\n",
                           "# a firing\nhours , air_C, note\n\n0,513,\"lid, shut\"\n"
                           "# tea\n1,\"512\",\n2.5,500\n"}) {
    CAPTURE(text);
    const FiringLog log = parsed(text);
    CHECK(log.time_s == hours_s);
    CHECK(in_C(log) == Values{513.0, 512.0, 500.0});
  }
}

TEST_CASE("read log: the clock of the first reading is kept, with its date where there is one") {
  using namespace std::chrono;
  const FiringLog dated = parsed(
      "time,air_C\n2026-11-28T22:30+01:00,513\n2026-11-28T23:30+01:00,5\n"
      "2026-11-29T00:30+01:00,512\n");
  REQUIRE(dated.clock);
  CHECK(dated.clock->dated);
  CHECK(dated.clock->first == local_days{year{2026} / 11 / 28} + hours{22} + minutes{30});
  const FiringLog clock = parsed("clock,air_C\n09:40,513\n10:40,512\n");
  REQUIRE(clock.clock);
  CHECK(!clock.clock->dated);
  CHECK(clock.clock->first.time_since_epoch() == hours{9} + minutes{40});
  CHECK(!parsed("hours,air_C\n0,513\n1,512\n").clock);
}

TEST_CASE("read log: air is used, or kiln, or the first, or the one asked for") {
  CHECK(parsed("hours,mould_C,air_C\n0,1,2\n1,1,2\n").sensor == "air_C");
  CHECK(parsed("hours,mould_C,kiln_F\n0,100,200\n1,100,200\n").sensor == "kiln_F");
  CHECK(parsed("hours,top_C,low_C\n0,1,2\n1,1,2\n").sensor == "top_C");
  const FiringLog mould = parsed("hours,mould_C,air_C\n0,100,200\n1,100,200\n", "mould_C");
  CHECK(in_C(mould) == Values{100.0, 100.0});
  CHECK(refusal("hours,mould_C,air_C\n0,1,2\n1,1,2\n", "mold_C") ==
        "log.csv: no temperature column is named \"mold_C\"; it has mould_C, air_C");
}

TEST_CASE("read log: setpoints and columns without a unit are not read, and that is said") {
  const FiringLog log = parsed("hours,setpoint_C,air_C,power\n0,500,513,40\n1,500,512,41\n");
  CHECK(log.sensor == "air_C");
  REQUIRE(log.remarks.size() == 1);
  CHECK(log.remarks[0].text ==
        "not read, for the name does not say what it is in: \"setpoint_C\", \"power\"");
  CHECK(parsed("hours,air_C,note\n0,513,tea\n1,512,\n").remarks.empty());
}

TEST_CASE("read log: words and empty fields for no reading are left out and said") {
  for (const char* word : {"", "OPEN", "open", "NaN", "n/a", "---", "Error", "****", "inf"}) {
    CAPTURE(word);
    const FiringLog log =
        parsed(fmt::format("hours,air_C\n0,513\n1,{0}\n2,{0}\n3,510\n4,509\n", word));
    CHECK(log.time_s == Values{0.0, 10800.0, 14400.0});
    REQUIRE(log.remarks.size() == 1);
    CHECK(log.remarks[0].fault == LogFault::missing);
    CHECK(log.remarks[0].line == 3);
    CHECK(log.remarks[0].text.find("lines 3 to 4: air_C has no reading") == 0);
  }
  CHECK(parsed("hours,air_C\n0,513\n1,512\n").remarks.empty());
}

TEST_CASE("read log: rows of one time count as one, at their mean") {
  const FiringLog log =
      parsed("clock,air_C\n09:40,500\n09:41,502\n09:41,503\n09:41,507\n09:42,506\n");
  CHECK(in_C(log) == Values{500.0, 504.0, 506.0});
  REQUIRE(log.remarks.size() == 1);
  CHECK(log.remarks[0].fault == LogFault::repeated_time);
  CHECK(log.remarks[0].line == 4);
}

TEST_CASE("read log: a file that ends within a row loses that row, and says so") {
  const FiringLog no_digits = parsed("hours,air_C\n0,513\n1,512\n2,51");
  CHECK(in_C(no_digits) == Values{513.0, 512.0});
  CHECK(said(no_digits, LogFault::cut_short));
  const FiringLog no_field = parsed("hours,air_C\n0,513\n1,512\n2");
  CHECK(in_C(no_field) == Values{513.0, 512.0});
  CHECK(said(no_field, LogFault::cut_short));
  // The same without a line break, but whole.
  const FiringLog whole = parsed("hours,air_C\n0,513\n1,512\n2,511");
  CHECK(in_C(whole) == Values{513.0, 512.0, 511.0});
  CHECK(whole.remarks.empty());
}

TEST_CASE("read log: what cannot be used is refused in one line") {
  struct Refused {
    std::string text, message;
  };
  for (
      const Refused& row : {
          Refused{"",
                  "log.csv: holds no header; the first line names the columns, such as "
                  "time,air_C"},
          {"hours,air_C\n",
           "log.csv: air_C holds fewer than two readings at different times; "
           "check that the log was saved whole, or name another column with "
           "--sensor"},
          {"hours,air\n0,1\n",
           "log.csv:1: no column holds temperatures (not read: \"air\"); put the unit at the end "
           "of its name in the header: air_C or air_F, whichever it is"},
          {"air_C,note\n5,\n",
           "log.csv:1: no column tells the time; name one of them time "
           "(2026-11-28T09:40), clock (09:40), minutes, hours or seconds, and "
           "any other something else"},
          {"hours,air_C,air_C\n0,1,1\n",
           "log.csv:1: two columns are named \"air_C\"; give each column its own name"},
          {"hours,air_C\n0,513\n1,513,2\n",
           "log.csv:3: 3 fields, the header has 2; write decimals with a point or separate fields "
           "by semicolons; put quotes around a note with a comma in it"},
          {"hours,air_C\n0,hot\n1,500\n",
           "log.csv:2: \"hot\" in air_C is not a number; write the number alone, the header gives "
           "its unit; leave it empty or write OPEN where there is no reading"},
          {"hours;air_C\n0;1.013,5\n1;500\n",
           "log.csv:2: \"1.013,5\" in air_C is not a number; write the number alone, the header "
           "gives its unit; leave it empty or write OPEN where there is no reading"},
          {"time,air_C\n28/11/2026 09:40,500\n",
           "log.csv:2: \"28/11/2026 09:40\" in time is not a date and time; write year-month-day "
           "and time, such as 2026-11-28T09:40 or 2026-11-28 09:40:30+01:00, or times of day alone "
           "in all rows"},
          {"date,time,air_C\n11/27/2026,18:00,800\n11/27/2026,19:30,513\n",
           "log.csv:2: \"11/27/2026\" in date is not a date; write year-month-day, such as "
           "2026-11-28; day and month the other way round cannot be told apart\n"
           "log.csv:3: \"11/27/2026\" in date is not a date; write year-month-day, such as "
           "2026-11-28; day and month the other way round cannot be told apart"},
          {"time,air_C\n2026-11-28T09:40Z,500\n2026-11-28T09:41,500\n",
           "log.csv:3: this time has no zone, the first row's has one; write all times alike"},
          {"clock,air_C\n9.40,500\n",
           "log.csv:2: \"9.40\" in clock is not a time of day; write it with colons, such as "
           "09:40, "
           "9:40 pm or 21:40:30"},
          {"minutes,air_C\n1e300,500\n",
           "log.csv:2: \"1e300\" in minutes is not a time since the start; write the number "
           "alone, the header gives its unit"},
          {"hours,air_C\n,500\n", "log.csv:2: the time is missing; write it, or leave the row out"},
          {"hours,air_C\n0,\"500\n",
           "log.csv:2: a quote is not closed; end the field with \" on "
           "the same line"},
          {"hours,air_C\n0,9999\n1,9999\n2,500\n3,499\n4,9999\n",
           "log.csv: 3 of the 5 rows have no usable reading of air_C, the first in line 2 (9999 "
           "°C); check the column and its unit in the header, or name another with --sensor"},
          {"clock,air_C\n18:00,1472\n19:30,955\n23:30,955\n05:00,880\n",
           "log.csv:2: air_C reads 1472, hotter than a kiln in °C (up to 1400), and goes on from "
           "there as if in °F; is it °F? write air_F in the header; else leave the field empty"},
      }) {
    CAPTURE(row.text);
    CHECK(refusal(row.text) == row.message);
  }
}

TEST_CASE("read log: every bad row is said at once") {
  const std::string said_lines = refusal("hours,air_C\n0,hot\n1,500\nsoon,500\n3,500\n");
  CHECK(said_lines.find("log.csv:2: ") == 0);
  CHECK(said_lines.find("\nlog.csv:4: ") != std::string::npos);
}

TEST_CASE("read log: a fault of many rows is said once, with its first line and their count") {
  std::string text = "clock,air_C\n";
  for (int minute = 10; minute < 50; ++minute) text += fmt::format("18.{},800\n", minute);
  CHECK(refusal(text) ==
        "log.csv:2: \"18.10\" in clock is not a time of day, and 39 more rows alike, the last at "
        "line 41; write it with colons, such as 09:40, 9:40 pm or 21:40:30");
}

TEST_CASE("read log: a column asked for whose name has no unit is named") {
  CHECK(
      refusal("hours,temp,air_C\n0,513,513\n1,512,512\n", "temp") ==
      "log.csv: the name of column \"temp\" does not say its unit; put the unit at the end of its "
      "name in the header: temp_C or temp_F, whichever it is");
}

TEST_CASE(
    "read log: single readings above what a kiln has are left out, codes are not asked about") {
  for (const char* text : {"seconds,air_C\n0,1500\n30,513\n60,513\n90,512\n",
                           "seconds,air_C\n0,513\n30,1999\n60,1999\n90,512\n120,511\n",
                           "hours,air_C\n0,9999\n1,513\n2,512\n"}) {
    const FiringLog log = parsed(text);
    CHECK(log.T_K.back() < 800.0);
    CHECK(said(log, LogFault::missing));
  }
}

TEST_CASE("read log: a log is told from a program by its header") {
  CHECK(looks_like_log("time,air_C\n"));
  CHECK(looks_like_log("# a firing\nhours;air_F\n"));
  CHECK(looks_like_log("minutes,air_C\n"));
  CHECK(looks_like_log("clock,air\n"));
  CHECK(!looks_like_log("target_C,minutes\n"));
  CHECK(!looks_like_log("target_C,rate_C_per_h,hold_min\n"));
  CHECK(!looks_like_log("step,target_F,minutes\n"));
  CHECK(!looks_like_log(""));
  CHECK(!looks_like_log("hello\n"));
}

TEST_CASE("read log: changed bytes are read or refused, never a crash or a reading out of range") {
  std::string text = "time,air_C,mould_C,note\n";
  for (int i = 0; i < 60; ++i) {
    text += fmt::format("2026-10-25T{:02}:{:02}:00,{:.1f},{},\"row {}\"\n",
                        i / 6,
                        10 * (i % 6),
                        513.0 - 0.7 * i,
                        i % 9 == 0 ? "OPEN" : "480",
                        i);
  }
  std::mt19937 random{3};
  const std::string signs = "0123456789.,;:-+eT\"\n\t #FCZ\xFFn";
  std::size_t read = 0;
  for (int trial = 0; trial < 3000; ++trial) {
    std::string changed = text;
    const int changes = 1 + static_cast<int>(random() % 6);
    for (int change = 0; change < changes; ++change) {
      const std::size_t at = random() % changed.size();
      switch (random() % 4) {
        case 0: changed[at] = signs[random() % signs.size()]; break;
        case 1: changed.erase(at, 1 + random() % 40); break;
        case 2: changed.insert(at, changed.substr(random() % changed.size(), random() % 60)); break;
        default: changed.resize(at + 1); break;
      }
    }
    try {
      const FiringLog log = parsed(changed);
      ++read;
      REQUIRE(log.time_s.size() == log.T_K.size());
      REQUIRE(log.time_s.size() >= 2);
      for (std::size_t i = 0; i < log.T_K.size(); ++i) {
        REQUIRE((log.T_K[i] > 240.0 && log.T_K[i] < 1680.0));
        if (i > 0) REQUIRE(log.time_s[i] > log.time_s[i - 1]);
      }
    } catch (const Error& error) {
      REQUIRE(std::string{error.what()}.find("log.csv") == 0);
    }
  }
  CHECK(read > 300);
}

TEST_CASE("read log: 600 000 rows of a week, and how long that takes" * doctest::skip(slow_build)) {
  std::string text = "time,air_C,mould_C\n";
  text.reserve(30'000'000);
  std::mt19937 random{9};
  std::normal_distribution<double> noise{0.0, 0.4};
  for (int i = 0; i < 600'000; ++i) {
    const int day = 22 + i / 86'400;
    const int second = i % 86'400;
    fmt::format_to(std::back_inserter(text),
                   "2026-11-{:02}T{:02}:{:02}:{:02},{:.1f},{:.1f}\n",
                   day,
                   second / 3600,
                   second / 60 % 60,
                   second % 60,
                   800.0 - 0.0012 * i + noise(random),
                   805.0 - 0.0012 * i + noise(random));
  }
  int reports = 0;
  const auto begin = std::chrono::steady_clock::now();
  const FiringLog log = parse_log(text, "week.csv", "", [&](const std::string&) { ++reports; });
  const double took_s =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  CHECK(log.time_s.size() == 600'000);
  CHECK(log.time_s.back() == 599'999.0);
  CHECK(log.remarks.empty());
  CHECK(reports >= 10);  // of its progress
  CHECK(took_s < 4.0);   // under a second on a machine of its own
  CHECK(std::abs(log.interval_s - 1.0) < within_K);
  MESSAGE("600 000 rows of ", text.size() / 1'000'000, " MB read in ", took_s, " s");
}

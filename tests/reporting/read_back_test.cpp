#include "reporting/read_back.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <chrono>
#include <string>

#include "base/text.h"
#include "checking/example_casting.h"
#include "cli/run_program.h"
#include "schedule/notation.h"

using namespace thickset;

namespace {

/// What is said of a program for a 50 mm slab, its lines joined.
std::string said(const std::string& text,
                 Degrees shown,
                 std::optional<Clock> start = std::nullopt,
                 std::size_t* widest = nullptr) {
  const Casting casting = example::slab_of_mm(50.0);
  const Kiln kiln = example::kiln();
  const Controller controller;
  const Program program = parse_program(text, "keyed.csv");
  const ReportContext context{.casting = casting,
                              .kiln = kiln,
                              .controller = controller,
                              .firing = {},
                              .limits = {},
                              .display = {.degrees = shown},
                              .start = start};
  CheckResult result;
  result.program_time = hours(50.0);
  const std::string back = read_back(context, program, result);
  std::string joined;
  for (const std::string& line : lines_of(back)) {
    if (widest) *widest = std::max(*widest, count_characters(line));
    const std::size_t from = line.find_first_not_of(' ');
    joined += (joined.empty() ? "" : " ") + line.substr(std::min(from, line.size()));
  }
  return joined;
}

}  // namespace

TEST_CASE("read back: a program by time in words, with its total and the kiln's") {
  CHECK(said("target_C,minutes\n800,0\n516,100\n516,240\n430,1800\n381,560\n40,3000\n",
             Degrees::celsius) ==
        "Keyed, from 800 °C: 1 h 40 min down to 516 °C, then hold 4 h at 516 °C, then 30 h down to "
        "430 °C, then 9 h 20 min down to 381 °C, then 2 d 2 h down to 40 °C; 3 d 23 h in all; as "
        "this kiln runs it 2 d 2 h.");
}

TEST_CASE("read back: a program by rate in F, heating said as heating, the kiln's own pace") {
  CHECK(said("target_F,rate_F_per_h,hold_min\n70,,0\n960,asap,0\n1000,12.5,30\n680,8,0\n95,45,0\n",
             Degrees::fahrenheit) ==
        "Keyed, from 70 °F: as fast as the kiln goes heating to 960 °F, then 12.5 °F/h heating to "
        "1000 °F (3 h 12 min), then hold 30 min at 1000 °F, then 8 °F/h down to 680 °F (40 h), "
        "then 45 °F/h down to 95 °F (13 h); 2 d 8 h 42 min in all beside the kiln's own pace; as "
        "this kiln runs it 2 d 2 h.");
}

TEST_CASE("read back: in the other degrees where they are asked for, and parts of a minute kept") {
  CHECK(said("target_C,minutes\n500,asap\n500,4.5\n", Degrees::fahrenheit) ==
        "Keyed, from 1472 °F where the kiln is: as fast as the kiln goes down to 932 °F, then hold "
        "4.5 min at 932 °F; 5 min in all beside the kiln's own pace; as this kiln runs it 2 d 2 "
        "h.");
}

TEST_CASE("read back: the finish where the start is known; no second total where it is the same") {
  using namespace std::chrono;
  const Clock start = local_days{2026y / November / 27} + std::chrono::hours{18};
  CHECK(said("target_C,minutes\n800,0\n35,3000\n", Degrees::celsius, start) ==
        "Keyed, from 800 °C: 2 d 2 h down to 35 °C; 2 d 2 h in all; ends Sun 2026-11-29 20:00.");
}

TEST_CASE("read back: a long program keeps its first steps and the last, in 79 columns") {
  std::string text = "target_C,rate_C_per_h,hold_min\n";
  for (int i = 0; i < 100; ++i) text += std::to_string(700 - 5 * i) + ",7,0\n";
  std::size_t widest = 0;
  const std::string all = said(text, Degrees::celsius, std::nullopt, &widest);
  CHECK(all.find("then 69 more, then 7 °C/h down to 205 °C (43 min); ") != std::string::npos);
  CHECK(all.find("down to 555 °C") != std::string::npos);
  CHECK(all.find("down to 550 °C") == std::string::npos);
  CHECK(widest <= 79);
}

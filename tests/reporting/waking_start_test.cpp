#include "reporting/waking_start.h"

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "cli/run_program.h"

using namespace thickset;

namespace {

Clock at(int day, int hour, int minute) {
  const std::chrono::year_month_day date{
      std::chrono::year{2026}, std::chrono::November, std::chrono::day{static_cast<unsigned>(day)}};
  return std::chrono::local_days{date} + std::chrono::hours{hour} + std::chrono::minutes{minute};
}

constexpr WakingHours day_time{std::chrono::hours{7}, std::chrono::hours{23}};

}  // namespace

TEST_CASE("waking hours: ends count, and they may pass midnight") {
  CHECK(day_time.hold(at(27, 7, 0)));
  CHECK(day_time.hold(at(27, 23, 0)));
  CHECK_FALSE(day_time.hold(at(27, 6, 59)));
  constexpr WakingHours late{std::chrono::hours{9}, std::chrono::hours{1}};
  CHECK(late.hold(at(27, 0, 30)));
  CHECK_FALSE(late.hold(at(27, 2, 0)));
}

TEST_CASE(
    "waking start: stays where all is well, moves the least that helps, says what cannot be") {
  const std::vector<MomentToLookIn> near{{"a", hours(2.0)}};
  CHECK(waking_start(at(27, 18, 0), day_time, near).start == at(27, 18, 0));
  // Twelve hours on from 18:00 is 06:00; from 19:00 it is 07:00.
  const std::vector<MomentToLookIn> far{{"a", hours(12.0)}};
  const WakingStart moved = waking_start(at(27, 18, 0), day_time, far);
  CHECK(moved.start == at(27, 19, 0));
  CHECK(moved.asleep.empty());
  // Two moments eight hours apart and more than the day: one of the first is always in the night.
  const std::vector<MomentToLookIn> many{{"a", hours(6.0)}, {"b", hours(12.0)}, {"c", hours(18.0)}};
  const WakingStart best = waking_start(at(27, 18, 0), day_time, many);
  CHECK(best.asleep.size() == 1);
  CHECK(day_time.hold(best.start));
}

TEST_CASE("tail --awake: the start is moved and said, the physics is not") {
  const std::vector<std::string> words{
      "tail", "--casting", "slab-50", "--start", "2026-11-27 18:00"};
  std::vector<std::string> moved = words;
  moved.insert(moved.end(), {"--awake", "07:00-23:00"});
  const ProgramRun plain = run_program(words);
  const ProgramRun run = run_program(moved);
  CHECK(run.exit_status == 0);
  CHECK(run.output.find("for somebody awake from 07:00 to 23:00") != std::string::npos);
  CHECK(plain.output.find("awake") == std::string::npos);
  const auto keyed = [](const std::string& text) {
    return text.substr(text.find("Key into"), text.find("stage ") - text.find("Key into"));
  };
  CHECK(keyed(run.output) == keyed(plain.output));
  for (const auto& [option, said] : {std::pair{"25:00-07:00", "is not a part of the day"},
                                     std::pair{"07:00-07:00", "is not a part of the day"},
                                     std::pair{"morning", "is not a part of the day"}}) {
    std::vector<std::string> wrong = words;
    wrong.insert(wrong.end(), {"--awake", option});
    const ProgramRun refused = run_program(wrong);
    CHECK(refused.exit_status == 2);
    CHECK(refused.errors.find(said) != std::string::npos);
  }
  const ProgramRun no_start =
      run_program({"tail", "--casting", "slab-50", "--awake", "07:00-23:00"});
  CHECK(no_start.exit_status == 2);
  CHECK(no_start.errors.find("there is no --start to move") != std::string::npos);
}

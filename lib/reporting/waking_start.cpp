#include "reporting/waking_start.h"

#include <fmt/format.h>

namespace thickset {
namespace {

Clock after(Clock start, Duration time) {
  return start + std::chrono::round<std::chrono::minutes>(time);
}

std::string of_day(std::chrono::minutes time) {
  return fmt::format("{:02}:{:02}", time.count() / 60, time.count() % 60);
}

}  // namespace

bool WakingHours::hold(Clock clock) const {
  const std::chrono::minutes of_day = clock - std::chrono::floor<std::chrono::days>(clock);
  return from < to ? of_day >= from && of_day <= to : of_day >= from || of_day <= to;
}

WakingStart waking_start(Clock earliest,
                         const WakingHours& awake,
                         std::span<const MomentToLookIn> moments) {
  constexpr std::chrono::minutes quarter{15};
  constexpr std::chrono::hours a_day{24};
  WakingStart best{.start = earliest, .asleep = {}};
  bool found = false;
  for (std::chrono::minutes later{0}; later < a_day; later += quarter) {
    WakingStart tried{.start = earliest + later, .asleep = {}};
    if (!awake.hold(tried.start)) continue;
    for (const MomentToLookIn& moment : moments) {
      if (!awake.hold(after(tried.start, moment.after))) tried.asleep.push_back(moment);
    }
    if (!found || tried.asleep.size() < best.asleep.size()) best = tried;
    found = true;
  }
  return best;
}

std::string waking_section(Clock asked, const WakingHours& awake, const WakingStart& moved) {
  std::string text = moved.start == asked
                         ? fmt::format("Start as asked, {}", show(asked))
                         : fmt::format("Start moved from {} to {}", show(asked), show(moved.start));
  text += fmt::format(", for somebody awake from {} to {}", of_day(awake.from), of_day(awake.to));
  if (moved.asleep.empty())
    return wrapped(text + ": every moment to look in falls in that.") + '\n';
  text += ". In the night:";
  std::string list;
  for (const MomentToLookIn& moment : moved.asleep) {
    list += wrapped(fmt::format("- {}, {}", moment.what, show(after(moved.start, moment.after)))) +
            '\n';
  }
  return wrapped(text) + '\n' + list;
}

}  // namespace thickset

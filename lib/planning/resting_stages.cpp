#include "planning/resting_stages.h"

#include <optional>
#include <utility>

#include <fmt/format.h>

#include "planning/rests.h"

namespace thickset {
namespace {

constexpr int most_rests = 3;
constexpr double worth_a_rest = 0.98;  // of the time, that one rest more has to come down to

}  // namespace

std::vector<SettledStages> settle_with_rests(const TailSetup& setup,
                                             const Hold& hold,
                                             const CoolDown& cool_down,
                                             const std::vector<FoundStages>& found,
                                             Enough enough) {
  const double slowest_K_per_s = setup.controller().smallest_rate.in_K_per_s();
  const StageBounds bounds = setup.bounds().with_slowest(slowest_K_per_s);
  const StageSearch search{cool_down, bounds, planning_aim};
  const Keys keys = setup.keys(hold);
  const Settler settler{cool_down, search, bounds, keys};
  /// With as many stages as there is room for, and fewer, up to `wanted` of them.
  const auto with_so_many = [&](int rests, std::size_t wanted) {
    std::vector<SettledStages> settled;
    for (auto one = found.rbegin(); one != found.rend() && settled.size() < wanted; ++one) {
      const std::optional<Course> start = with_rests(one->course, slowest_K_per_s, rests);
      if (!start || !keys.has_room_for(*start)) continue;
      const Course planned = search.near(*start, setup.kept_in(*start)).course;
      auto whole =
          settler.settle(planned, setup.kept_in(planned), setup.kept_by_user(planned.size()));
      if (!whole) break;  // fewer stages leave no less
      SettledStages next{planned, std::move(*whole)};
      if (!settled.empty() && next.time_s() <= settled.back().time_s()) settled.pop_back();
      settled.push_back(std::move(next));
    }
    return settled;
  };
  std::vector<SettledStages> settled;
  for (int rests = 1; rests <= most_rests; ++rests) {
    setup.say(fmt::format("trying {} rest{} on the way down", rests, rests == 1 ? "" : "s"));
    const bool one_more = enough == Enough::quickest && settled.empty();
    const std::vector<SettledStages> more = with_so_many(rests, one_more ? 2 : 1);
    if (more.empty()) continue;
    if (enough == Enough::any) return more;
    const bool gains =
        settled.empty() || more.front().time_s() <= worth_a_rest * settled.front().time_s();
    if (!gains) break;
    settled.insert(settled.begin(), more.begin(), more.end());
  }
  return settled;
}

}  // namespace thickset

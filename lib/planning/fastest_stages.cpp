#include "planning/fastest_stages.h"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace thickset {
namespace {

constexpr double aim = planning_aim;
constexpr double over_tol =
    0.006;  // of a limit, over the aim, that a search may leave: rounding mends it
constexpr double worth_a_stage = 0.997;    // of the time, that one stage more has to come down to
constexpr int few = 3;                     // of so many stages all are tried
constexpr double above_strain_K = 5.0;     // where a quick first stage may end
constexpr double apart = 1.2;              // rates of the two halves of a stage to begin a search
constexpr double narrowest_start_K = 8.0;  // of a stage a search begins with

bool keeps(const FoundStages& found) {
  return found.outcome.worst() <= aim + over_tol;
}

/// The longest stage in two, not of one rate: where the boundary lies would then make no
/// difference.
Course halved(Course course) {
  std::size_t longest = 0;
  for (std::size_t i = 1; i < course.size(); ++i) {
    if (course.asked_s(i) > course.asked_s(longest)) longest = i;
  }
  const double middle_K = 0.5 * (course.from_K(longest) + course.to_K[longest]);
  const auto at = static_cast<std::ptrdiff_t>(longest);
  course.to_K.insert(course.to_K.begin() + at, middle_K);
  course.rate_K_per_s[longest] *= apart;
  course.rate_K_per_s.insert(course.rate_K_per_s.begin() + at,
                             course.rate_K_per_s[longest] / (apart * apart));
  return course;
}

bool is_better(const FoundStages& a, const FoundStages& b) {
  if (keeps(a) != keeps(b)) return keeps(a);
  return keeps(a) ? a.outcome.time_s < b.outcome.time_s : a.outcome.worst() < b.outcome.worst();
}

}  // namespace

std::optional<std::size_t> StageWishes::stages() const {
  if (!rates.empty()) return rates.size();
  if (!ends.empty()) return ends.size() + 1;
  return std::nullopt;
}

FastestStages::FastestStages(std::span<const Casting> castings,
                             const CoolDown& cool_down,
                             const StageBounds& bounds,
                             const Limits& limits)
    : castings_{castings},
      cool_down_{&cool_down},
      bounds_{bounds},
      search_{cool_down, bounds, aim},
      setting_{setting_bands(castings, cool_down, bounds, limits, aim)} {}

Course FastestStages::cut(int stages) const {
  Course course{cool_down_->hold().in_K(), {}, {}};
  const int most = static_cast<int>(setting_.bands.size());
  for (const BandGroup& group : quickest_groups(setting_.bands, std::min(stages, most), aim)) {
    course.to_K.push_back(setting_.to_K[group.end - 1]);
    course.rate_K_per_s.push_back(group.rate_K_per_s);
  }
  while (course.size() < static_cast<std::size_t>(stages)) {
    course.to_K.insert(course.to_K.begin(), course.hold_K - 0.5 * course.width_K(0));
    course.rate_K_per_s.insert(course.rate_K_per_s.begin(), course.rate_K_per_s.front());
  }
  return course;
}

std::vector<Course> FastestStages::starts(int stages, const Course* one_fewer) const {
  if (stages < 3) return {cut(stages)};
  if (one_fewer && stages > few + 1) return {halved(*one_fewer)};

  std::vector<Course> found;
  Course quick_first = cut(stages - 1);
  double strain_K = 0.0;
  for (const Casting& casting : castings_) {
    strain_K = std::max(strain_K, casting.glass.strain_point.value.in_K());
  }
  const double first_to_K = strain_K + above_strain_K;
  if (quick_first.to_K.front() < first_to_K - narrowest_start_K &&
      first_to_K < quick_first.hold_K - narrowest_start_K) {
    quick_first.to_K.insert(quick_first.to_K.begin(), first_to_K);
    quick_first.rate_K_per_s.insert(quick_first.rate_K_per_s.begin(),
                                    setting_.bands.front().fastest_K_per_s);
    found.push_back(quick_first);
  }
  if (found.empty() || stages == 3) found.push_back(cut(stages));
  if (one_fewer && stages > few) found.push_back(halved(*one_fewer));
  return found;
}

FoundStages FastestStages::best_from(std::span<const Course> starts) const {
  std::optional<FoundStages> best;
  for (const Course& start : starts) {
    const FoundStages found = search_.near(start);
    if (!best || is_better(found, *best)) best = found;
  }
  return *best;
}

FoundStages FastestStages::exactly(int stages) const {
  return best_from(starts(stages, nullptr));
}

std::vector<FoundStages> FastestStages::up_to(int most_stages) const {
  assert(most_stages >= 1);
  std::vector<FoundStages> all;
  for (int stages = 1; stages <= most_stages; ++stages) {
    FoundStages best = best_from(starts(stages, all.empty() ? nullptr : &all.back().course));
    const bool gains =
        all.empty() || (is_better(best, all.back()) &&
                        best.outcome.time_s < worth_a_stage * all.back().outcome.time_s);
    if (!gains && stages > few) break;
    if (gains) all.push_back(std::move(best));
    if (!keeps(all.back())) break;  // nor would more stages: one slow rate leaves least
  }
  return all;
}

FoundStages FastestStages::with(const StageWishes& wishes) const {
  assert(wishes.stages());
  const std::size_t n = *wishes.stages();
  Course start = cut(static_cast<int>(n));
  Kept kept = Kept::nothing(n);
  for (std::size_t i = 0; i < wishes.rates.size(); ++i) {
    if (!wishes.rates[i]) continue;
    start.rate_K_per_s[i] = wishes.rates[i]->in_K_per_s();
    kept.rate[i] = true;
  }
  for (std::size_t i = 0; i < wishes.ends.size(); ++i) {
    if (!wishes.ends[i]) continue;
    start.to_K[i] = wishes.ends[i]->in_K();
    kept.to[i] = true;
  }
  // Ends that are free lie between those that are fixed.
  for (std::size_t i = 0; i + 1 < n; ++i) {
    if (kept.to[i]) continue;
    std::size_t next = i + 1;
    while (next + 1 < n && !kept.to[next]) ++next;
    const double above_K = start.from_K(i);
    const double below_K = start.to_K[next];
    if (start.to_K[i] < above_K && start.to_K[i] > below_K) continue;
    start.to_K[i] = above_K + (below_K - above_K) / static_cast<double>(next - i + 1);
  }
  return search_.near(start, kept);
}

}  // namespace thickset

#include "planning/settle.h"

#include <algorithm>
#include <numeric>

namespace thickset {
namespace {

constexpr int most_coarse_searches = 2;  // one after the other: four ways in all
constexpr int most_slowings = 60;
constexpr double worth_a_move_s = 1.0;
constexpr double most_share = 1.0 - 1e-9;  // of a limit; the check differs by rounding
constexpr double of_kiln = 1.0 + 1e-9;     // of what the kiln can, for rounding

}  // namespace

Settler::Settler(const CoolDown& cool_down,
                 const StageSearch& search,
                 const StageBounds& bounds,
                 const Keys& keys)
    : cool_down_{&cool_down}, search_{&search}, bounds_{bounds}, keys_{keys} {}

std::optional<SettledCourse> Settler::settle(const Course& course,
                                             const Kept& searching,
                                             const Kept& by_user) const {
  return settle_coarse(course, searching, by_user, most_coarse_searches);
}

std::optional<SettledCourse> Settler::settle_coarse(const Course& course,
                                                    const Kept& kept,
                                                    const Kept& by_user,
                                                    int searches) const {
  std::optional<std::size_t> slowest;
  for (std::size_t i = 0; i < course.size(); ++i) {
    if (kept.rate[i] || !keys_.coarse_neighbours(course.rate_K_per_s[i])) continue;
    if (!slowest || course.rate_K_per_s[i] < course.rate_K_per_s[*slowest]) slowest = i;
  }
  if (!slowest || searches == 0) return round(course, by_user);

  const Keys::Neighbours neighbours = *keys_.coarse_neighbours(course.rate_K_per_s[*slowest]);
  Kept with_rate = kept;
  with_rate.rate[*slowest] = true;
  std::vector<FoundStages> ways;
  for (const std::optional<double>& rate : {neighbours.below_K_per_s, neighbours.above_K_per_s}) {
    if (!rate) continue;
    Course at_rate = course;
    at_rate.rate_K_per_s[*slowest] = *rate;
    ways.push_back(search_->near(at_rate, with_rate));
  }
  // The quicker first: whole numbers make a way slower, so that the other is often not worth it.
  std::sort(ways.begin(), ways.end(), [](const FoundStages& a, const FoundStages& b) {
    return a.outcome.time_s < b.outcome.time_s;
  });
  std::optional<SettledCourse> best;
  for (const FoundStages& way : ways) {
    if (best && way.outcome.time_s >= best->keyed.outcome.time_s) continue;
    const std::optional<SettledCourse> settled =
        settle_coarse(way.course, with_rate, by_user, searches - 1);
    if (!settled) continue;
    if (!best || settled->keyed.outcome.time_s < best->keyed.outcome.time_s) best = settled;
  }
  return best;
}

bool Settler::keeps(const KeyedCourse& keyed) const {
  return keys_.can_be_keyed(keyed) && keyed.outcome.worst() <= most_share;
}

/// The course as keyed, where it can be and keeps the limits: the case that is likely to fail is
/// asked first.
std::optional<KeyedCourse> Settler::kept(const Course& course, std::size_t governing) const {
  const auto first = cool_down_->cases().subspan(governing, 1);
  if (!keeps(keys_.try_out(course, *cool_down_, first))) return std::nullopt;
  KeyedCourse keyed = keys_.try_out(course, *cool_down_);
  if (!keeps(keyed)) return std::nullopt;
  return keyed;
}

std::optional<SettledCourse> Settler::round(const Course& course, const Kept& kept) const {
  std::optional<KeyedCourse> keyed = slowed(keys_.try_out(course, *cool_down_), kept);
  if (!keyed) return std::nullopt;
  for (const double share : {0.01, 0.003, 0.0}) {  // the last: by single units
    while (quicken(*keyed, kept, share)) {
    }
  }
  SettledCourse settled{std::move(*keyed), {}};
  for (std::size_t i = 0; i < course.size(); ++i) {
    settled.limiting.push_back(limiting(settled.keyed, i, kept));
    if (course.rests()) settled.limiting_rest.push_back(limiting_rest(settled.keyed, i));
  }
  return settled;
}

/// Slower until it keeps the limits.
std::optional<KeyedCourse> Settler::slowed(KeyedCourse keyed, const Kept& kept) const {
  for (int i = 0; i < most_slowings; ++i) {
    if (!keys_.can_be_keyed(keyed)) return std::nullopt;
    if (keeps(keyed)) return keyed;
    std::optional<KeyedCourse> next = slower(keyed, kept);
    if (!next) return std::nullopt;
    keyed = std::move(*next);
  }
  return std::nullopt;
}

/// One that is a little slower: the stage that pulls too much, else the longest rest, else the
/// slowest stage.
std::optional<KeyedCourse> Settler::slower(const KeyedCourse& keyed, const Kept& kept) const {
  constexpr double of_what_is_over = 0.7;  // not to overshoot: what is left may grow slower
  const Course& course = keyed.course;
  std::vector<std::size_t> stages(course.size());
  std::iota(stages.begin(), stages.end(), std::size_t{0});
  const std::vector<double>& tension = keyed.outcome.tension;
  const bool pulls = *std::max_element(tension.begin(), tension.end()) > most_share;
  const double over = of_what_is_over * (keyed.outcome.worst() / most_share - 1.0);
  if (course.rests() && !pulls) {
    const auto longest = std::max_element(course.rest_s.begin(), course.rest_s.end());
    const auto stage = static_cast<std::size_t>(longest - course.rest_s.begin());
    const int units = keys_.units_of_rest(over, course, stage);
    return keys_.try_out(keys_.with_rest(course, stage, units), *cool_down_);
  }
  std::sort(stages.begin(), stages.end(), [&](std::size_t a, std::size_t b) {
    return pulls ? tension[a] > tension[b] : course.rate_K_per_s[a] < course.rate_K_per_s[b];
  });
  for (const std::size_t stage : stages) {
    if (kept.rate[stage]) continue;
    const int units = keys_.units_of(over, course, stage);
    KeyedCourse next = keys_.try_out(keys_.with_rate(course, stage, -units), *cool_down_);
    if (next.course.rate_K_per_s[stage] < course.rate_K_per_s[stage]) return next;
  }
  return std::nullopt;
}

/// Tries each rate and each end faster by a share, at least by one unit, and each rest shorter,
/// those that gain most first, and keeps what keeps the limits; false where nothing did.
bool Settler::quicken(KeyedCourse& keyed, const Kept& kept, double share) const {
  enum class Kind { rate, end, rest };
  struct Move {
    Kind kind;
    std::size_t stage;
    double time_s;
  };
  const auto moved = [&](const Move& move) {
    const Course& course = keyed.course;
    const std::size_t stage = move.stage;
    if (move.kind == Kind::rate) {
      return keys_.with_rate(course, stage, keys_.units_of(share, course, stage));
    }
    if (move.kind == Kind::rest) {
      return with_shorter_rest(course, stage, keys_.units_of_rest(share, course, stage));
    }
    const bool quicker_below = course.rate_K_per_s[stage + 1] > course.rate_K_per_s[stage];
    return keys_.with_end(course, stage, quicker_below ? 1 : -1);
  };
  std::vector<Move> moves;
  const std::size_t n = keyed.course.size();
  for (std::size_t i = 0; i < n; ++i) {
    if (!kept.rate[i]) moves.push_back({Kind::rate, i, 0.0});
    if (i + 1 < n && !kept.to[i]) moves.push_back({Kind::end, i, 0.0});
    if (keyed.course.resting_s(i) > 0.0) moves.push_back({Kind::rest, i, 0.0});
  }
  for (Move& move : moves) move.time_s = cool_down_->time_s(steps_of(moved(move)));
  std::sort(
      moves.begin(), moves.end(), [](const Move& a, const Move& b) { return a.time_s < b.time_s; });
  bool any = false;
  for (const Move& move : moves) {
    const Course course = moved(move);
    if (!within_kiln(course, move.stage)) continue;
    std::optional<KeyedCourse> faster = this->kept(course, keyed.outcome.governing());
    if (!faster || faster->outcome.time_s > keyed.outcome.time_s - worth_a_move_s) continue;
    keyed = std::move(*faster);
    any = true;
  }
  return any;
}

bool Settler::within_kiln(const Course& course, std::size_t stage) const {
  const bool last = stage + 1 == course.size();
  return course.rate_K_per_s[stage] <=
         of_kiln * bounds_.fastest_K_per_s(course.from_K(stage), course.to_K[stage], last);
}

Limiting Settler::limiting(const KeyedCourse& keyed, std::size_t stage, const Kept& kept) const {
  if (kept.rate[stage]) return Limiting::yours;
  // A stage keyed in parts takes as many units as parts before anything changes.
  KeyedCourse tried = keyed;
  for (int units = 1; units <= keyed.steps_used; ++units) {
    const Course faster = keys_.with_rate(keyed.course, stage, units);
    if (!within_kiln(faster, stage)) return Limiting::kiln;
    tried = keys_.key(faster);
    if (tried.course.rate_K_per_s[stage] > keyed.course.rate_K_per_s[stage]) break;
  }
  return limit_of(keys_.try_out(tried.course, *cool_down_), keyed.outcome.time_s);
}

Limiting Settler::limiting_rest(const KeyedCourse& keyed, std::size_t stage) const {
  if (keyed.course.resting_s(stage) == 0.0) return Limiting::nothing;
  const Course shorter = with_shorter_rest(keyed.course, stage, 1);
  return limit_of(keys_.try_out(shorter, *cool_down_), keyed.outcome.time_s);
}

/// By at least so many units: a rest keyed in parts takes as many as parts before anything changes.
Course Settler::with_shorter_rest(const Course& course, std::size_t stage, int units) const {
  constexpr int most_parts = 100;
  const double rest_s = keys_.key(course).course.rest_s[stage];
  Course shorter = course;
  for (int more = 0; more < most_parts; ++more) {
    shorter = keys_.key(keys_.with_rest(course, stage, -units - more)).course;
    if (shorter.rest_s[stage] < rest_s) break;
  }
  return shorter;
}

/// What is against a cool-down that was to be quicker than one of this time.
Limiting Settler::limit_of(const KeyedCourse& tried, double time_s) const {
  if (!keys_.can_be_keyed(tried)) return Limiting::controller;
  const std::vector<double>& tension = tried.outcome.tension;
  if (*std::max_element(tension.begin(), tension.end()) > most_share) return Limiting::tension;
  if (tried.outcome.worst() > most_share) return Limiting::retardation;
  if (tried.outcome.time_s > time_s - worth_a_move_s) return Limiting::kiln;
  return Limiting::nothing;
}

}  // namespace thickset

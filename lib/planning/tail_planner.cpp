#include "planning/tail_planner.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace thickset {
namespace {

constexpr double fewest_within = 1.05;  // of the quickest time: then fewer steps are taken
constexpr double needs_rests = 1.01;    // of the grade, left at the slowest rate that can be keyed
constexpr double slowest_planned = 0.02 / 3600.0;  // K/s; slower is no plan

constexpr const char* about_rests =
    "the slowest rate that can be keyed leaves too much by itself; the rests count on stress "
    "relaxing well below the annealing point, where the model is least certain: rather longer than "
    "shorter";

/// The nearest to a limit, of all treatments.
double worst_share(const CheckResult& result, const Limits& limits) {
  double worst = 0.0;
  for (const CheckResult::OfTreatment& of : result.treatments) {
    worst = std::max({worst,
                      of.retardation.in_nm_per_cm() / limits.grade.in_nm_per_cm(),
                      of.peak_tension_Pa / limits.tension.in_Pa()});
  }
  return worst;
}

Rate slowest_rate(const Course& course) {
  return Rate::from_K_per_s(course.rate_K_per_s[course.slowest()]);
}

void take(Tail& tail, const SettledCourse& settled) {
  tail.fitted = settled.keyed.fitted;
  tail.steps_used = settled.keyed.steps_used;
  tail.stages.clear();
  const std::vector<PlannedStage> stages = stages_of(settled.keyed.course);
  for (std::size_t i = 0; i < stages.size(); ++i) {
    Stage stage{stages[i].kind, stages[i].to, stages[i].rate, settled.limiting[i]};
    if (settled.keyed.course.rests()) {
      stage.rest = stages[i].rest;
      stage.limiting_rest = settled.limiting_rest[i];
    }
    tail.stages.push_back(stage);
  }
}

}  // namespace

std::optional<Tail> TailPlanner::plan() const {
  Tail tail;
  const std::vector<FoundStages> found = found_with_hold(tail);
  settle(tail, found);
  if (tail.prices.empty()) return std::nullopt;
  if (tail.planned.rests()) tail.notes.push_back(about_rests);
  check_as_keyed(tail, setup_.request().limits);
  return tail;
}

bool TailPlanner::can_plan() const {
  Tail tail;
  const std::vector<FoundStages> found = found_with_hold(tail);
  return !settled_each(tail, found, Enough::any).empty();
}

Tail TailPlanner::as_nearly_as_can_be_keyed() const {
  Tail tail;
  const FoundStages found = found_with_hold(tail).back();
  const KeyedCourse keyed = setup_.keys(tail.hold).key(found.course);
  take(tail, {keyed, std::vector<Limiting>(found.course.size(), Limiting::controller)});
  tail.cannot = tail.fitted.cannot;
  if (tail.steps_used > setup_.steps_available()) {
    tail.cannot.push_back(fmt::format("the tail takes {} steps, {} are free on this controller",
                                      tail.steps_used,
                                      setup_.steps_available()));
  }
  check_as_keyed(tail, setup_.request().limits);
  return tail;
}

void TailPlanner::price_limits(Tail& tail) const {
  const auto time_s = [&](const Hold& hold, const Limits& limits) {
    const CoolDown cool_down = setup_.cool_down_after(hold, limits);
    const StageSearch search{cool_down, setup_.bounds_for(tail.planned), planning_aim};
    return search.near(tail.planned, setup_.kept_in(tail.planned)).outcome.time_s;
  };
  setup_.say("pricing the limits");
  const Limits& limits = setup_.request().limits;
  const double now_s = time_s(tail.hold, limits);
  const auto saved_by = [&](const Hold& hold, const Limits& eased) {
    return seconds(std::max(now_s - time_s(hold, eased), 0.0));
  };
  Hold longer = tail.hold;
  longer.margin += hours(1.0);
  tail.limit_prices = {
      .of_grade = saved_by(tail.hold, with_grade_times(limits, LimitPrices::eased)),
      .of_tension = saved_by(tail.hold, with_tension_times(limits, LimitPrices::eased)),
      .of_an_hour = saved_by(longer, limits)};
}

TailPlanner::Least TailPlanner::least() const {
  const Hold hold =
      setup_.size_hold(estimate_rates(setup_.casting(), setup_.request().limits).setting);
  const Least single = least_after(hold, setup_.cool_down_after(hold));
  return {setup_.may_rest() ? std::min(single.left, 1.0) : single.left, single.tension};
}

/// In one stage, as slow as can be keyed.
TailPlanner::Least TailPlanner::least_after(const Hold& hold, const CoolDown& cool_down) const {
  const Controller& controller = setup_.controller();
  const double hold_K = hold.temperature.in_K();
  const double end_K = setup_.last_target().in_K();
  double slowest_K_per_s = controller.smallest_rate.in_K_per_s();
  if (controller.notation() == Notation::time) {
    slowest_K_per_s = (hold_K - end_K) / (setup_.steps_after(hold) * in_s(controller.longest_time));
  }
  const CoolDown::Outcome outcome =
      cool_down.run(steps_of({hold_K, {end_K}, {std::max(slowest_K_per_s, slowest_planned)}}));
  return {outcome.left[outcome.governing()],
          *std::max_element(outcome.tension.begin(), outcome.tension.end())};
}

void TailPlanner::check_as_keyed(Tail& tail, const Limits& limits) const {
  const auto checked = [&](const Casting& casting, bool with_remedies) {
    return check(casting,
                 setup_.kiln(),
                 setup_.controller().late_on_cooling,
                 tail.fitted.program,
                 setup_.request().firing,
                 limits,
                 with_remedies,
                 setup_.request().shown,
                 setup_.request().bulks);
  };
  tail.check = checked(setup_.casting(), true);
  tail.others.clear();
  for (const Casting& other : setup_.castings().subspan(1)) {
    tail.others.push_back(checked(other, false));
  }
  tail.governing = 0;
  double worst = worst_share(tail.check, limits);
  for (std::size_t i = 0; i < tail.others.size(); ++i) {
    const double share = worst_share(tail.others[i], limits);
    if (share <= worst) continue;
    worst = share;
    tail.governing = i + 1;
  }
}

/// The hold, sized for the slowest of the stages that are found after it.
std::vector<FoundStages> TailPlanner::found_with_hold(Tail& tail) const {
  tail.estimate = estimate_rates(setup_.casting(), setup_.request().limits);
  tail.hold = setup_.size_hold(tail.estimate.setting);
  setup_.refuse_ends_outside(tail.hold);
  setup_.say("searching the quickest stages");
  std::vector<FoundStages> found = find(tail);
  tail.hold = setup_.size_hold(slowest_rate(found.back().course));
  return found;
}

/// The quickest stages, one list for 1, 2, ... of them; as many as the steps leave room for.
std::vector<FoundStages> TailPlanner::find(Tail& tail) const {
  const TailRequest& request = setup_.request();
  const CoolDown cool_down = setup_.cool_down_after(tail.hold);
  const FastestStages fastest{setup_.castings(), cool_down, setup_.bounds(), request.limits};
  tail.least_cool_down = seconds(fastest.least_time_s());
  tail.banded = fastest.banded();
  if (request.stages.stages()) return {fastest.with(request.stages)};
  return fastest.up_to(setup_.steps_after(tail.hold));
}

/// Each number of stages in whole numbers, its price, and the one to take.
void TailPlanner::settle(Tail& tail, const std::vector<FoundStages>& found) const {
  const std::vector<SettledStages> settled = settled_each(tail, found, Enough::quickest);
  set_prices(tail, settled);
  if (settled.empty()) return;
  const SettledStages& taken = settled[chosen(tail)];
  take(tail, taken.whole);
  tail.planned = taken.planned;
}

/// In whole numbers, fewest stages first, each quicker than the one before.
std::vector<SettledStages> TailPlanner::settled_each(const Tail& tail,
                                                     const std::vector<FoundStages>& found,
                                                     Enough enough) const {
  const CoolDown cool_down = setup_.cool_down_after(tail.hold);
  const StageSearch search{cool_down, setup_.bounds(), planning_aim};
  const Settler settler{cool_down, search, setup_.bounds(), setup_.keys(tail.hold)};
  // From the most stages down; without a price list, those and one fewer.
  const bool whole_list = setup_.request().fewest_steps || setup_.request().all_prices;
  const std::size_t wanted = enough == Enough::any ? 1 : whole_list ? found.size() : 2;
  const bool rests_alone = setup_.may_rest() &&
                           setup_.controller().smallest_rate.in_K_per_s() >= slowest_planned &&
                           least_after(tail.hold, cool_down).left > needs_rests;
  std::vector<SettledStages> settled;
  for (auto one = found.rbegin(); !rests_alone && one != found.rend() && settled.size() < wanted;
       ++one) {
    setup_.say(fmt::format("bringing {} stages into whole numbers", one->course.size()));
    auto whole = settler.settle(one->course, setup_.kept_by_user(one->course.size()));
    if (!whole) continue;
    SettledStages next{one->course, std::move(*whole)};
    // In whole numbers more stages may gain nothing.
    while (!settled.empty() && settled.back().time_s() >= next.time_s()) settled.pop_back();
    settled.push_back(std::move(next));
  }
  if (settled.empty() && setup_.may_rest()) {
    settled = settle_with_rests(setup_, tail.hold, cool_down, found, enough);
  }
  std::reverse(settled.begin(), settled.end());
  return settled;
}

void TailPlanner::set_prices(Tail& tail, const std::vector<SettledStages>& settled) const {
  tail.prices.clear();
  for (const SettledStages& one : settled) {
    const KeyedCourse& keyed = one.whole.keyed;
    tail.prices.push_back({.stages = keyed.course.size(),
                           .steps_used = keyed.steps_used,
                           .cool_down = seconds(one.time_s()),
                           .left = keyed.outcome.left[keyed.outcome.governing()],
                           .over_least = 0.0});
  }
  if (settled.empty()) return;
  tail.least_cool_down = std::min(tail.least_cool_down, tail.prices.back().cool_down);
  for (StagePrice& price : tail.prices) {
    price.over_least =
        (tail.hold.total() + price.cool_down) / (tail.hold.total() + tail.least_cool_down) - 1.0;
  }
}

std::size_t TailPlanner::chosen(const Tail& tail) const {
  const std::size_t last = tail.prices.size() - 1;
  if (!setup_.request().fewest_steps) return last;
  const auto time = [&](std::size_t i) { return tail.hold.total() + tail.prices[i].cool_down; };
  std::size_t fewest = 0;
  while (time(fewest) > fewest_within * time(last)) ++fewest;
  return fewest;
}

}  // namespace thickset

#include "planning/tail.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/rules.h"
#include "planning/rests.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double fewest_within = 1.05;  // of the quickest time: then fewer steps are taken
constexpr double most_easing = 200.0;   // of a limit, when the nearest is looked for
constexpr double just_above = 1.02;     // of the least that there can be, to begin with
constexpr double near_enough = 1.03;
constexpr double easier_each_time = 1.6;
constexpr double slowest_planned = 0.02 / 3600.0;  // K/s; slower is no plan
constexpr int most_rests = 3;
constexpr double worth_a_rest = 0.98;  // of the time, that one rest more has to come down to
constexpr int halvings = 4;            // of the bracket: to 3 % of the limit

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

Limits with_grade_times(Limits limits, double factor) {
  limits.grade = Retardation::from_nm_per_cm(factor * limits.grade.in_nm_per_cm());
  return limits;
}

Limits with_tension_times(Limits limits, double factor) {
  limits.tension = Stress::from_MPa(factor * limits.tension.in_MPa());
  return limits;
}

/// One tail being planned: everything that stays the same meanwhile.
class Planner {
 public:
  Planner(std::span<const Casting> castings,
          const Kiln& kiln,
          const Controller& controller,
          const TailRequest& request)
      : castings_{castings},
        kiln_{kiln},
        controller_{controller},
        request_{request},
        hold_temperature_{choose_hold_temperature()} {}

  /// nullopt: no tail was found that can be keyed and keeps the limits.
  std::optional<Tail> plan() {
    Tail tail;
    tail.estimate = estimate_rates(casting(), request_.limits);
    size_hold_for(tail, tail.estimate.setting);
    refuse_ends_outside(tail.hold);
    say("searching the quickest stages");
    const std::vector<FoundStages> found = find(tail);
    size_hold_for(tail, slowest_rate(found.back().course));
    settle(tail, found);
    if (tail.prices.empty()) return std::nullopt;
    if (tail.planned.rests()) tail.notes.push_back(about_rests);
    check_as_keyed(tail, request_.limits);
    return tail;
  }

  /// In: the tail that plan() gave.
  void price_limits(Tail& tail) const {
    const auto time_s = [&](const Hold& hold, const Limits& limits) {
      const CoolDown cool_down = cool_down_after(hold, limits);
      const StageSearch search{cool_down, bounds_for(tail.planned), planning_aim};
      return search.near(tail.planned, kept_in(tail.planned)).outcome.time_s;
    };
    say("pricing the limits");
    const Limits& limits = request_.limits;
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

  Temperature hold_temperature() const { return hold_temperature_; }

  /// What the slowest single stage that can be keyed comes to. No tail without rests needs less of
  /// either limit; a rest may leave less stress.
  struct Least {
    double left, tension;
  };
  Least least() const {
    Tail tail;
    size_hold_for(tail, estimate_rates(casting(), request_.limits).setting);
    const CoolDown cool_down = cool_down_after(tail.hold);
    const double hold_K = tail.hold.temperature.in_K();
    const double end_K = last_target().in_K();
    double slowest_K_per_s = controller_.smallest_rate.in_K_per_s();
    if (controller_.notation() == Notation::time) {
      const int free =
          std::max(steps_available() - steps_used(keyed_to_hold(tail.hold), controller_), 1);
      slowest_K_per_s = (hold_K - end_K) / (free * in_s(controller_.longest_time));
    }
    const CoolDown::Outcome outcome =
        cool_down.run(steps_of({hold_K, {end_K}, {std::max(slowest_K_per_s, slowest_planned)}}));
    const double left = outcome.left[outcome.governing()];
    return {may_rest() ? std::min(left, 1.0) : left,
            *std::max_element(outcome.tension.begin(), outcome.tension.end())};
  }

  /// The quickest stages as nearly as they can be keyed, whatever they leave.
  Tail as_nearly_as_can_be_keyed() {
    Tail tail;
    tail.estimate = estimate_rates(casting(), request_.limits);
    size_hold_for(tail, tail.estimate.setting);
    const FoundStages found = find(tail).back();
    size_hold_for(tail, slowest_rate(found.course));
    const KeyedCourse keyed = keys(tail.hold).key(found.course);
    take(tail, {keyed, std::vector<Limiting>(found.course.size(), Limiting::controller)});
    tail.cannot = tail.fitted.cannot;
    if (tail.steps_used > steps_available()) {
      tail.cannot.push_back(fmt::format("the tail takes {} steps, {} are free on this controller",
                                        tail.steps_used,
                                        steps_available()));
    }
    check_as_keyed(tail, request_.limits);
    return tail;
  }

  void check_as_keyed(Tail& tail, const Limits& limits) const {
    const auto checked = [&](const Casting& casting, bool with_remedies) {
      return check(casting,
                   kiln_,
                   controller_.late_on_cooling,
                   tail.fitted.program,
                   request_.firing,
                   limits,
                   with_remedies,
                   request_.shown,
                   request_.bulks);
    };
    tail.check = checked(casting(), true);
    tail.others.clear();
    for (const Casting& other : castings_.subspan(1)) tail.others.push_back(checked(other, false));
    tail.governing = 0;
    double worst = worst_share(tail.check, limits);
    for (std::size_t i = 0; i < tail.others.size(); ++i) {
      const double share = worst_share(tail.others[i], limits);
      if (share <= worst) continue;
      worst = share;
      tail.governing = i + 1;
    }
  }

 private:
  const Casting& casting() const { return castings_.front(); }

  void say(const std::string& what) const {
    if (request_.progress) request_.progress(what);
  }

  void size_hold_for(Tail& tail, Rate setting) const {
    tail.hold = size_hold_for_all(
        castings_, kiln_, request_.firing, setting, hold_temperature_, request_.shown);
    if (!request_.hold_length) return;
    const Duration spare = *request_.hold_length - tail.hold.needed();
    tail.hold.margin = std::max(spare, Duration{0.0});
    tail.hold.short_by = std::max(-spare, Duration{0.0});
    if (in_s(tail.hold.short_by) > 0.0) {
      tail.hold.notes.push_back(
          fmt::format("the hold that you fixed is too short: {:.0f} min, {:.0f} min less than the "
                      "{:.0f} min found to be needed",
                      in_min(*request_.hold_length),
                      std::ceil(in_min(tail.hold.short_by)),
                      std::ceil(in_min(tail.hold.needed()))));
    }
  }

  /// In whole degrees of the controller, so that the hold is sized as it is keyed: the user's own,
  /// else of a few between floor and annealing point the one with which the whole is quickest.
  Temperature choose_hold_temperature() const {
    if (request_.hold_temperature) {
      const double step = controller_.degree_step;
      const double degrees = in_degrees(*request_.hold_temperature, controller_.degrees);
      return from_degrees(std::round(degrees / step) * step, controller_.degrees);
    }
    const std::vector<HoldOption> options = hold_options(castings_,
                                                         kiln_,
                                                         controller_.late_on_cooling,
                                                         request_.firing,
                                                         request_.limits,
                                                         request_.bulks,
                                                         last_target(),
                                                         hold_temperatures_tried,
                                                         controller_.degrees,
                                                         controller_.degree_step);
    return quickest(options).hold.temperature;
  }

  /// Warm enough to be reached, and no lower than can be keyed.
  Temperature last_target() const {
    return std::max(request_.firing.room + rules::last_target_above_room,
                    controller_.lowest_target);
  }

  bool breaks_off_when_late() const {
    return controller_.late_on_cooling == Controller::LateOnCooling::stops;
  }

  int steps_available() const {
    return std::min(request_.steps.value_or(controller_.steps), controller_.steps);
  }

  Program to_hold(const Hold& hold) const {
    Program planned;
    if (controller_.start == Controller::Start::stored) planned.start = request_.firing.from;
    planned.steps.push_back({.target = hold.temperature,
                             .pace = AsFastAsPossible{},
                             .hold = hold.total(),
                             .comment = "hold"});
    return planned;
  }

  /// A controller without a key for it is told the kiln's own pace: at the start of the fall, or,
  /// if it must never be late, at its end.
  Rate own_pace(const Hold& hold) const {
    return kiln_.natural_cooling.rate_at(breaks_off_when_late() ? hold.temperature
                                                                : request_.firing.from);
  }

  Program keyed_to_hold(const Hold& hold) const {
    return fit_to_controller(to_hold(hold), controller_, request_.firing.from, own_pace(hold))
        .program;
  }

  Keys keys(const Hold& hold) const {
    return {to_hold(hold), controller_, request_.firing.from, own_pace(hold), steps_available()};
  }

  CoolDown cool_down_after(const Hold& hold) const {
    return cool_down_after(hold, request_.limits);
  }
  CoolDown cool_down_after(const Hold& hold, const Limits& limits) const {
    return {castings_,
            kiln_,
            controller_.late_on_cooling,
            request_.firing,
            keyed_to_hold(hold),
            request_.bulks,
            limits,
            last_target()};
  }

  StageBounds bounds() const {
    return {kiln_, request_.firing, last_target(), breaks_off_when_late()};
  }

  /// Only what the controller can be told needs rests.
  StageBounds bounds_for(const Course& course) const {
    if (!course.rests()) return bounds();
    return bounds().with_slowest(controller_.smallest_rate.in_K_per_s());
  }

  static Rate slowest_rate(const Course& course) {
    return Rate::from_K_per_s(course.rate_K_per_s[course.slowest()]);
  }

  /// The quickest stages, one list for 1, 2, ... of them; as many as the steps leave room for.
  std::vector<FoundStages> find(Tail& tail) const {
    const CoolDown cool_down = cool_down_after(tail.hold);
    const FastestStages fastest{castings_, cool_down, bounds(), request_.limits};
    tail.least_cool_down = seconds(fastest.least_time_s());
    tail.banded = fastest.banded();
    if (request_.stages.stages()) return {fastest.with(request_.stages)};
    const int free = steps_available() - steps_used(keyed_to_hold(tail.hold), controller_);
    return fastest.up_to(std::max(free, 1));
  }

  Kept kept_by_user(std::size_t stages) const {
    Kept kept = Kept::nothing(stages);
    for (std::size_t i = 0; i < request_.stages.ends.size(); ++i) {
      kept.to[i] = request_.stages.ends[i].has_value();
    }
    for (std::size_t i = 0; i < request_.stages.rates.size(); ++i) {
      kept.rate[i] = request_.stages.rates[i].has_value();
    }
    return kept;
  }

  /// What a search from this course may not change: what the user fixed, and beside rests the rates
  /// that are the controller's slowest, since only these need rests.
  Kept kept_in(const Course& course) const {
    Kept kept = kept_by_user(course.size());
    if (!course.rests()) return kept;
    for (std::size_t i = 0; i < course.size(); ++i) {
      if (course.rate_K_per_s[i] <= controller_.smallest_rate.in_K_per_s()) kept.rate[i] = true;
    }
    return kept;
  }

  /// The user's own ends lie between the hold and the last target.
  void refuse_ends_outside(const Hold& hold) const {
    for (const std::optional<Temperature>& end : request_.stages.ends) {
      if (!end || (*end<hold.temperature&& * end> last_target())) continue;
      throw Error{{"stage ends"},
                  fmt::format("{} is not between the hold at {} and the last target at {}",
                              spoken(*end, request_.shown),
                              spoken(hold.temperature, request_.shown),
                              spoken(last_target(), request_.shown)),
                  "write where each stage ends, all but the last"};
    }
  }

  /// A cool-down searched, and in whole numbers.
  struct Settled {
    Course planned;
    SettledCourse whole;
    double time_s() const { return whole.keyed.outcome.time_s; }
  };

  /// Each number of stages in whole numbers, its price, and the one to take.
  void settle(Tail& tail, const std::vector<FoundStages>& found) const {
    const CoolDown cool_down = cool_down_after(tail.hold);
    const StageSearch search{cool_down, bounds(), planning_aim};
    const Settler settler{cool_down, search, bounds(), keys(tail.hold)};
    // From the most stages down; without a price list, those and one fewer.
    const std::size_t wanted = request_.fewest_steps || request_.all_prices ? found.size() : 2;
    std::vector<Settled> settled;
    for (auto one = found.rbegin(); one != found.rend() && settled.size() < wanted; ++one) {
      say(fmt::format("bringing {} stages into whole numbers", one->course.size()));
      auto whole = settler.settle(one->course, kept_by_user(one->course.size()));
      if (!whole) continue;
      const Settled next{one->course, std::move(*whole)};
      // In whole numbers more stages may gain nothing.
      while (!settled.empty() && settled.back().time_s() >= next.time_s()) settled.pop_back();
      settled.push_back(next);
    }
    if (settled.empty() && may_rest()) {
      settled = settle_with_rests(tail, cool_down, found);
    }
    std::reverse(settled.begin(), settled.end());
    tail.prices.clear();
    for (const Settled& one : settled) {
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
    const Settled& taken = settled[chosen(tail)];
    take(tail, taken.whole);
    tail.planned = taken.planned;
  }

  /// Where only whole rates are keyed, and the user has fixed none.
  bool may_rest() const {
    return controller_.notation() == Notation::rate && !request_.stages.stages();
  }

  /// Where the slowest rate that can be keyed leaves too much: that rate with one, two, three rests
  /// on the way, as far as one more gains something; with one, also in one stage fewer. The most
  /// stages first.
  std::vector<Settled> settle_with_rests(const Tail& tail,
                                         const CoolDown& cool_down,
                                         const std::vector<FoundStages>& found) const {
    const double slowest_K_per_s = controller_.smallest_rate.in_K_per_s();
    const StageBounds bounds = this->bounds().with_slowest(slowest_K_per_s);
    const StageSearch search{cool_down, bounds, planning_aim};
    const Keys keys = this->keys(tail.hold);
    const Settler settler{cool_down, search, bounds, keys};
    std::vector<Settled> settled;
    for (int rests = 1; rests <= most_rests; ++rests) {
      say(fmt::format("trying {} rest{} on the way down", rests, rests == 1 ? "" : "s"));
      // With as many stages as there is room for.
      const std::size_t wanted = settled.empty() ? 2 : 1;
      std::vector<Settled> with_these;
      for (auto one = found.rbegin(); one != found.rend() && with_these.size() < wanted; ++one) {
        const std::optional<Course> start = with_rests(one->course, slowest_K_per_s, rests);
        if (!start || !keys.has_room_for(*start)) continue;
        const Course planned = search.near(*start, kept_in(*start)).course;
        auto whole = settler.settle(planned, kept_in(planned), kept_by_user(planned.size()));
        if (!whole) break;  // fewer stages leave no less
        Settled next{planned, std::move(*whole)};
        if (!with_these.empty() && next.time_s() <= with_these.back().time_s()) {
          with_these.pop_back();
        }
        with_these.push_back(std::move(next));
      }
      if (with_these.empty()) continue;
      if (!settled.empty() &&
          with_these.front().time_s() > worth_a_rest * settled.front().time_s()) {
        break;
      }
      settled.insert(settled.begin(), with_these.begin(), with_these.end());
    }
    return settled;
  }

  std::size_t chosen(const Tail& tail) const {
    std::size_t last = tail.prices.size() - 1;
    if (!request_.fewest_steps) return last;
    const auto time = [&](std::size_t i) { return tail.hold.total() + tail.prices[i].cool_down; };
    std::size_t fewest = 0;
    while (time(fewest) > fewest_within * time(last)) ++fewest;
    return fewest;
  }

  static void take(Tail& tail, const SettledCourse& settled) {
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

  std::span<const Casting> castings_;
  const Kiln& kiln_;
  const Controller& controller_;
  const TailRequest& request_;
  Temperature hold_temperature_;
};

/// The tail for the least limits, raised by one factor as `raised` says, for which there is
/// one; checked against those asked for.
///
/// least: a factor below which there is none.
std::optional<Tail> nearest_by(const std::function<Limits(Limits, double)>& raised,
                               double least,
                               std::span<const Casting> castings,
                               const Kiln& kiln,
                               const Controller& controller,
                               const TailRequest& request) {
  const auto at = [&](double factor) {
    TailRequest easier = request;
    easier.all_prices = false;
    easier.limits = raised(easier.limits, factor);
    if (request.progress) request.progress("no tail keeps the limits; looking for the nearest");
    easier.progress = {};
    Planner planner{castings, kiln, controller, easier};
    std::optional<Tail> tail = planner.plan();
    if (tail) planner.check_as_keyed(*tail, request.limits);
    return tail;
  };
  double fails = std::max(least, 1.0);
  double passes = fails * just_above;
  std::optional<Tail> nearest = at(passes);
  while (!nearest && passes < most_easing) {
    fails = passes;
    passes *= easier_each_time;
    nearest = at(passes);
  }
  if (!nearest) return std::nullopt;
  for (int i = 0; i < halvings && passes > near_enough * fails; ++i) {
    const double middle = std::sqrt(fails * passes);
    std::optional<Tail> tail = at(middle);
    (tail ? passes : fails) = middle;
    if (tail) nearest = std::move(tail);
  }
  return nearest;
}

Tail nearest_tail(std::span<const Casting> castings,
                  const Kiln& kiln,
                  const Controller& controller,
                  TailRequest request) {
  const Planner planner{castings, kiln, controller, request};
  request.hold_temperature = planner.hold_temperature();  // chosen once for all
  const auto [left, tension] = planner.least();
  if (std::optional<Tail> tail =
          nearest_by(with_grade_times, left, castings, kiln, controller, request)) {
    tail->cannot.push_back(
        fmt::format("{:.3g} nm/cm cannot be kept; the least found that can is {:.3g} nm/cm",
                    request.limits.grade.in_nm_per_cm(),
                    tail->check.measured.permanent.retardation.in_nm_per_cm()));
    return *tail;
  }
  if (std::optional<Tail> tail =
          nearest_by(with_tension_times, tension, castings, kiln, controller, request)) {
    tail->cannot.push_back(
        fmt::format("{:.3g} MPa of tension cannot be kept; the least found that can is {:.3g} MPa",
                    request.limits.tension.in_MPa(),
                    tail->check.measured.peak_tension_Pa * 1e-6));
    return *tail;
  }
  return Planner{castings, kiln, controller, request}.as_nearly_as_can_be_keyed();
}

}  // namespace

Tail plan_tail(std::span<const Casting> castings,
               const Kiln& kiln,
               const Controller& controller,
               const TailRequest& request) {
  Planner planner{castings, kiln, controller, request};
  if (std::optional<Tail> tail = planner.plan()) {
    planner.price_limits(*tail);
    return *tail;
  }
  return nearest_tail(castings, kiln, controller, request);
}

}  // namespace thickset

#include "planning/tail.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "checking/remedy.h"
#include "checking/rules.h"

namespace thickset {
namespace {

// The correction of the rates by simulation stops when the nearest value is in this band of its
// limit.
constexpr double aim_share = 0.99;
constexpr double aim_band = 0.012;
constexpr int most_corrections = 10;
constexpr int most_slowings = 40;
constexpr double slower_each_time = 0.97;  // after rounding, while the rounded program is over
constexpr double faster_to_bind = 1.25;    // a stage binds when this much faster fails the check
constexpr double nearly_natural = 0.94;  // of the kiln's own fall: then it is the kiln that limits
constexpr double whole_numbers_cost =
    1.02;  // asked over keyed rate from which rounding is the reason

struct Rates {
  Rate setting, run_out;
};

/// One tail being planned: everything that stays the same while its rates are corrected.
class Planner {
 public:
  Planner(const Casting& casting,
          const Kiln& kiln,
          const Controller& controller,
          const TailRequest& request)
      : casting_{casting}, kiln_{kiln}, controller_{controller}, request_{request} {}

  Tail plan() {
    Tail tail;
    tail.estimate = estimate_rates(casting_, request_.limits);
    Rates rates{tail.estimate.setting, tail.estimate.run_out};
    size_hold_for(tail, rates.setting);
    choose_stage_count(tail);
    rates = correct(tail, rates);
    size_hold_for(tail, rates.setting);
    settle(tail, rates);
    tail.check = check(casting_,
                       kiln_,
                       controller_.late_on_cooling,
                       tail.fitted.program,
                       request_.firing,
                       request_.limits,
                       true,
                       request_.shown);
    tail.steps_used = steps_used(tail.fitted.program, controller_);
    describe(tail);
    return tail;
  }

 private:
  void size_hold_for(Tail& tail, Rate setting) const {
    tail.hold =
        size_hold(casting_, kiln_, request_.firing, setting, hold_temperature(), request_.shown);
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

  /// The hold temperature in whole degrees of the controller, so that it is sized as it is keyed.
  std::optional<Temperature> hold_temperature() const {
    const Temperature wanted =
        request_.hold_temperature.value_or(casting_.glass.annealing_point.value);
    const double step = controller_.degree_step;
    const double keyed = std::round(in_degrees(wanted, controller_.degrees) / step) * step;
    return from_degrees(keyed, controller_.degrees);
  }

  /// Warm enough to be reached, and no lower than can be keyed.
  Temperature last_target() const {
    return std::max(request_.firing.room + rules::last_target_above_room,
                    controller_.lowest_target);
  }

  int steps_available() const {
    return std::min(request_.steps.value_or(controller_.steps), controller_.steps);
  }

  /// As many stages (three at most) as the controller has steps for, hold and splits included.
  void choose_stage_count(Tail& tail) {
    for (most_stages_ = 3; most_stages_ > 1; --most_stages_) {
      const FittedProgram fitted =
          fit(program(tail.hold, {tail.estimate.setting, tail.estimate.run_out}));
      if (steps_used(fitted.program, controller_) <= steps_available()) return;
    }
  }

  std::vector<PlannedStage> stages(const Hold& hold, Rates rates) const {
    return lay_out_stages(casting_,
                          kiln_,
                          request_.firing,
                          hold.temperature,
                          last_target(),
                          rates.setting,
                          rates.run_out,
                          most_stages_,
                          breaks_off_when_late());
  }

  Program program(const Hold& hold, Rates rates) const {
    Program planned;
    if (controller_.start == Controller::Start::stored) planned.start = request_.firing.from;
    planned.steps.push_back({.target = hold.temperature,
                             .pace = AsFastAsPossible{},
                             .hold = hold.total(),
                             .place = {},
                             .comment = "hold"});
    for (const PlannedStage& stage : stages(hold, rates)) {
      planned.steps.push_back({.target = stage.to,
                               .pace = stage.rate,
                               .hold = seconds(0.0),
                               .place = {},
                               .comment = name_of(stage.kind)});
    }
    return planned;
  }

  bool breaks_off_when_late() const {
    return controller_.late_on_cooling == Controller::LateOnCooling::stops;
  }

  FittedProgram fit(const Program& planned) const {
    // A controller without a key for it is told the kiln's own pace: at the start of the fall, or,
    // if it must never be late, at its end.
    const Temperature paced_at =
        breaks_off_when_late() ? planned.steps.front().target : request_.firing.from;
    return fit_to_controller(
        planned, controller_, request_.firing.from, kiln_.natural_cooling.rate_at(paced_at));
  }

  Measured run(const Program& program) const {
    return measure(casting_, kiln_, controller_.late_on_cooling, program, request_.firing);
  }

  struct Shares {
    double retardation, tension;
    double largest() const { return std::max(retardation, tension); }
  };
  Shares shares(const Measured& measured) const {
    return {measured.permanent.retardation.in_nm_per_cm() / request_.limits.grade.in_nm_per_cm(),
            measured.peak_tension_Pa / request_.limits.tension.in_Pa()};
  }

  /// Moves both rates until the simulated values are just within their limits. Each value is nearly
  /// proportional to its own rate, so the step is that proportion.
  Rates correct(Tail& tail, Rates rates) const {
    for (int i = 0; i < most_corrections; ++i) {
      const Measured measured = run(program(tail.hold, rates));
      const Shares share = shares(measured);
      const double setting = correction(share.retardation);
      const double run_out = correction(share.tension);
      if (setting == 1.0 && run_out == 1.0) break;
      rates.setting = Rate::from_K_per_s(rates.setting.in_K_per_s() * setting);
      rates.run_out = Rate::from_K_per_s(rates.run_out.in_K_per_s() * run_out);
      rates.setting = std::min(rates.setting, rates.run_out);
    }
    return rates;
  }

  static double correction(double share) {
    if (std::abs(share - aim_share) <= aim_band) return 1.0;
    return std::clamp(aim_share / std::max(share, 1e-6), 0.4, 1.6);
  }

  /// Rounds for the controller and slows down until the rounded program passes.
  void settle(Tail& tail, Rates rates) {
    for (int i = 0; i < most_slowings; ++i) {
      tail.fitted = fit(program(tail.hold, rates));
      rates_ = rates;
      if (!tail.fitted.cannot.empty()) break;
      const Shares share = shares(run(tail.fitted.program));
      if (share.largest() <= 1.0) break;
      const double slower = slower_each_time;
      if (share.retardation > 1.0)
        rates.setting = Rate::from_K_per_s(rates.setting.in_K_per_s() * slower);
      if (share.tension > 1.0)
        rates.run_out = Rate::from_K_per_s(rates.run_out.in_K_per_s() * slower);
      rates.setting = std::min(rates.setting, rates.run_out);
    }
    tail.cannot = tail.fitted.cannot;
    const int used = steps_used(tail.fitted.program, controller_);
    if (used > steps_available()) {
      tail.cannot.push_back(fmt::format(
          "the tail takes {} steps, {} are free on this controller", used, steps_available()));
    }
  }

  /// The fitted program's steps that belong to one step of the plan.
  static std::vector<std::size_t> fitted_steps(const Tail& tail, int planned_step) {
    std::vector<std::size_t> steps;
    for (std::size_t i = 0; i < tail.fitted.from_step.size(); ++i) {
      if (tail.fitted.from_step[i] == planned_step) steps.push_back(i);
    }
    return steps;
  }

  void describe(Tail& tail) const {
    const std::vector<PlannedStage> planned = stages(tail.hold, rates_);
    const Program& keyed = tail.fitted.program;
    const Temperature start = start_of(keyed, request_.firing);
    for (std::size_t i = 0; i < planned.size(); ++i) {
      const std::vector<std::size_t> steps = fitted_steps(tail, static_cast<int>(i) + 1);
      if (steps.empty()) continue;
      const KeyedStep first = keyed_step(keyed, steps.front(), start);
      Stage stage{.kind = planned[i].kind,
                  .to = keyed.steps[steps.back()].target,
                  .rate = first.rate.value_or(planned[i].rate),
                  .asked = planned[i].rate,
                  .binding = false,
                  .limit = {}};
      stage.limit = limit_of(tail, stage, steps, start);
      stage.binding = stage.limit == "retardation" || stage.limit == "tension";
      tail.stages.push_back(stage);
    }
  }

  /// What keeps a stage from being faster: a limit when the check names this stage once it is 25 %
  /// faster, else what else there is.
  std::string limit_of(const Tail& tail,
                       const Stage& stage,
                       const std::vector<std::size_t>& steps,
                       Temperature start) const {
    Program faster = tail.fitted.program;
    for (const std::size_t step : steps) {
      const std::optional<Rate> rate = keyed_step(faster, step, start).rate;
      if (rate)
        faster = with_rate(faster, step, Rate::from_K_per_s(rate->in_K_per_s() * faster_to_bind));
    }
    const CheckResult checked = check(
        casting_, kiln_, controller_.late_on_cooling, faster, request_.firing, request_.limits);
    for (const Finding& finding : checked.findings) {
      const bool names_this = std::any_of(steps.begin(), steps.end(), [&](std::size_t step) {
        return static_cast<int>(step) == finding.step;
      });
      if (!finding.over || !names_this) continue;
      if (finding.kind == Finding::Kind::retardation) return "retardation";
      if (finding.kind == Finding::Kind::tension) return "tension";
    }
    const Temperature from = keyed_step(tail.fitted.program, steps.front(), start).from;
    const double natural_K_per_s =
        kiln_.natural_cooling.in_room(request_.firing.room).rate_at(from).in_K_per_s();
    if (stage.asked.in_K_per_s() >= nearly_natural * natural_K_per_s) return "kiln";
    if (stage.kind == PlannedStage::Kind::easing) return "gradual";
    if (stage.asked.in_K_per_s() > whole_numbers_cost * stage.rate.in_K_per_s()) {
      return "whole numbers";
    }
    return "none";
  }

  const Casting& casting_;
  const Kiln& kiln_;
  const Controller& controller_;
  const TailRequest& request_;
  int most_stages_ = 3;
  Rates rates_{Rate::from_K_per_s(0.0), Rate::from_K_per_s(0.0)};
};

}  // namespace

Tail plan_tail(const Casting& casting,
               const Kiln& kiln,
               const Controller& controller,
               const TailRequest& request) {
  return Planner{casting, kiln, controller, request}.plan();
}

}  // namespace thickset

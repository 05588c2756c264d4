#include "checking/end_of_program.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include <fmt/format.h>

#include "checking/another_reading.h"
#include "checking/casting_needs.h"
#include "checking/limit_findings.h"
#include "checking/rules.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr auto far_above_room = TemperatureDifference::from_K(60.0);
constexpr double within = 0.98;  // of the limits: the rate is rounded to what can be keyed

/// Where a last step may end, in whole degrees of the program.
Temperature end_to_key(const CheckedProgram& checked) {
  return whole_degree_above(checked.firing.room + rules::last_target_above_room,
                            checked.program.degrees);
}

/// The fastest rate of a step more, to there, with which the whole keeps the limits under every
/// treatment; where other steps are over, which keeps them in that step.
std::optional<Rate> rate_to_room(const CheckedProgram& checked) {
  const Temperature last = checked.program.steps.back().target;
  const Temperature end = end_to_key(checked);
  const std::size_t added = checked.program.steps.size();
  const Limits& limits = checked.limits;
  const auto run_at = [&](Rate rate) {
    Program longer = checked.program;
    longer.steps.push_back({.target = end, .pace = rate});
    return checked.run_worst(longer);
  };
  const auto of_all = [&](Rate rate) {
    const Measured measured = run_at(rate);
    return std::max(measured.permanent.retardation.in_nm_per_cm() / limits.grade.in_nm_per_cm(),
                    measured.peak_tension_Pa / limits.tension.in_Pa());
  };
  const auto of_step = [&](Rate rate) {
    return nearest_limit(run_at(rate).steps[added], limits).share;
  };
  const auto bearable = BearableRate{checked.casting, limits}.over(last, end);
  const NaturalCooling natural = checked.kiln.natural_cooling.in_room(checked.firing.room);
  const double own_K_per_s = (last - end).in_K() / in_s(natural.time_to_fall(last, end));
  const Rate first = Rate::from_K_per_s(
      bearable ? std::max(own_K_per_s, 2.0 * bearable->in_K_per_s()) : own_K_per_s);
  const auto rate = fastest_passing(first, of_all(first), of_all, within);
  return rate ? rate : fastest_passing(first, of_step(first), of_step, within);
}

std::string what_follows(const CheckedProgram& checked, bool falls_over) {
  const std::string last = spoken(checked.program.steps.back().target, checked.program.degrees);
  if (checked.controller_named) {
    switch (checked.controller.after_end) {
      case Controller::AfterEnd::holds:
        return fmt::format("after it this controller holds {} until it is switched off", last);
      case Controller::AfterEnd::returns:
        return fmt::format("after it this controller goes from {} to its main setpoint", last);
      case Controller::AfterEnd::off: break;
    }
  }
  return fmt::format(
      "with the elements off from {} the kiln falls by itself, {} the limits as "
      "simulated",
      last,
      falls_over ? "over" : "within");
}

std::string step_to_key(const CheckedProgram& checked) {
  const Degrees degrees = checked.program.degrees;
  const Temperature end = end_to_key(checked);
  const auto rate = rate_to_room(checked);
  if (!rate) return fmt::format("key a step more to {}", spoken(end, degrees));
  const double distance_K = (checked.program.steps.back().target - end).in_K();
  if (checked.program.notation == Notation::rate) {
    return fmt::format(
        "key a step more to {} at {} or slower", spoken(end, degrees), rate_to_key(*rate, degrees));
  }
  return fmt::format("key a row more to {} in {:.0f} min or longer",
                     spoken(end, degrees),
                     std::ceil(distance_K / rate->in_K_per_s() / 60.0));
}

}  // namespace

std::vector<Finding> end_of_program(const CheckedProgram& checked) {
  const std::size_t steps = checked.program.steps.size();
  if (checked.program.steps.back().target < checked.firing.room + far_above_room) return {};
  const bool falls_over =
      nearest_limit(checked.result.measured.steps[steps], checked.limits).share > 1.0;
  const bool goes_off =
      !checked.controller_named || checked.controller.after_end == Controller::AfterEnd::off;
  if (goes_off && !falls_over) {
    return {{.kind = Finding::Kind::no_cooling_to_room,
             .step = static_cast<int>(steps) - 1,
             .text = fmt::format("no step takes it to the room: {}",
                                 what_follows(checked, falls_over))}};
  }
  const std::string to_key = step_to_key(checked);
  return {{.kind = Finding::Kind::notation_slip,
           .step = static_cast<int>(steps) - 1,
           .text = fmt::format("no step takes it to the room: {}; a last step missing? then {}",
                               what_follows(checked, falls_over),
                               to_key),
           .to_key = to_key}};
}

}  // namespace thickset

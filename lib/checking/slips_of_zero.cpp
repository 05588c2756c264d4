#include "checking/slips_of_zero.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <variant>

#include <fmt/format.h>

#include "checking/another_reading.h"
#include "checking/casting_needs.h"
#include "checking/rules.h"
#include "relaxation/relaxation_time.h"
#include "units/spoken.h"

namespace thickset {
namespace {

constexpr double round_hold_min = 10.0;
constexpr auto below_usual_start = TemperatureDifference::from_K(100.0);

bool anneals_at(const Glass& glass, Temperature t) {
  return t >= glass.strain_point.value &&
         t <= glass.annealing_point.value + rules::hold_above_annealing;
}

/// The step that reaches the temperature of an anneal and goes on at once: the nearest to the
/// annealing point, where the program has no hold there.
std::optional<std::size_t> step_without_hold(const CheckedProgram& checked) {
  const Program& program = checked.program;
  const Temperature annealing = checked.casting.glass.annealing_point.value;
  std::optional<std::size_t> nearest;
  for (std::size_t i = 0; i + 1 < program.steps.size(); ++i) {
    const Temperature at = program.steps[i].target;
    if (!anneals_at(checked.casting.glass, at)) continue;
    const auto off_K = [&](std::size_t step) {
      return std::abs((program.steps[step].target - annealing).in_K());
    };
    if (!nearest || off_K(i) < off_K(*nearest)) nearest = i;
  }
  return nearest;
}

std::optional<KeyingSlip> no_hold(const CheckedProgram& checked) {
  if (checked.result.measured.hold) return std::nullopt;
  const std::vector<Leg> all = legs(checked.program, checked.start());
  const bool held_above = std::any_of(all.begin(), all.end(), [&](const Leg& leg) {
    return leg.is_hold && leg.to >= checked.casting.glass.strain_point.value;
  });
  if (held_above) return std::nullopt;
  const auto step = step_without_hold(checked);
  if (!step) return std::nullopt;
  const auto even = time_to_even_at(checked, *step);
  if (!even) return std::nullopt;
  const Temperature at = checked.program.steps[*step].target;
  const Duration needed = *even + relaxation::time_to_relax(checked.casting.glass, at);
  const double needed_min = round_hold_min * std::ceil(in_min(needed) / round_hold_min);
  const bool by_rate = checked.program.notation == Notation::rate;
  return KeyingSlip{.finding = {.kind = Finding::Kind::notation_slip,
                                .step = static_cast<int>(*step),
                                .text = fmt::format(
                                    "{} goes through {} without a hold{}, but {}: an anneal meant? "
                                    "then key {} of about {:.0f} min",
                                    checked.step_name(*step),
                                    spoken(at, checked.program.degrees),
                                    by_rate ? " (0 min)" : "",
                                    even_after(*even),
                                    by_rate ? "a hold" : "a row more to the same target",
                                    needed_min)},
                    .instead_of = {{Finding::Kind::hold_too_short, -1}}};
}

/// A start at the temperature of the anneal, far below where the glass comes from.
std::optional<KeyingSlip> zero_is_start(const CheckedProgram& checked) {
  const Program& program = checked.program;
  if (program.notation != Notation::time || !program.start) return std::nullopt;
  const Temperature start = *program.start;
  if (!anneals_at(checked.casting.glass, start) || start > checked.firing.from - below_usual_start)
    return std::nullopt;
  return KeyingSlip{
      .finding = {.kind = Finding::Kind::notation_slip,
                  .text = fmt::format(
                      "the first row, {0} in 0 min, is where the program starts: the fall to {0} "
                      "is not in it; as fast as the kiln goes meant? then key asap for the 0",
                      spoken(start, program.degrees))}};
}

/// The step that the named controller would run with no ramp, over a limit.
std::vector<KeyingSlip> no_ramp(const CheckedProgram& checked) {
  std::vector<KeyingSlip> slips;
  if (!checked.controller_named || !checked.controller.as_fast_key) return slips;
  const BearableRate bears{checked.casting, checked.limits};
  for (std::size_t i = 0; i < checked.program.steps.size(); ++i) {
    const KeyedStep keyed = checked.keyed(i);
    const auto bearable = bears.over(keyed.from, keyed.to);
    if (!keys_own_pace(checked, i) || !bearable || !checked.hurts(i)) continue;
    slips.push_back(
        {.finding = {.kind = Finding::Kind::notation_slip,
                     .step = static_cast<int>(i),
                     .text = fmt::format(
                         "{}: {} is as fast as it goes on this controller, and this casting bears "
                         "about {}: a ramp meant? then key that or slower",
                         checked.step_name(i),
                         *checked.controller.as_fast_key,
                         rate_to_key(*bearable, checked.program.degrees))}});
  }
  return slips;
}

}  // namespace

bool keys_own_pace(const CheckedProgram& checked, std::size_t step) {
  const auto* const rate = std::get_if<Rate>(&checked.program.steps[step].pace);
  if (rate == nullptr) return false;
  const std::string digits =
      fmt::format("{:.6g}", in_degrees_per_h(*rate, checked.program.degrees));
  const auto& own = checked.controller.as_fast_key;
  if (checked.controller_named && own) return digits == *own;
  return digits == "999" || digits == "9999";
}

std::vector<KeyingSlip> slips_of_zero(const CheckedProgram& checked) {
  std::vector<KeyingSlip> slips;
  if (auto slip = zero_is_start(checked)) slips.push_back(std::move(*slip));
  if (auto slip = no_hold(checked)) slips.push_back(std::move(*slip));
  for (KeyingSlip& slip : no_ramp(checked)) slips.push_back(std::move(slip));
  return slips;
}

}  // namespace thickset

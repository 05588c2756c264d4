#include "checking/remedy.h"

#include <algorithm>
#include <cmath>

namespace thickset {
namespace {

constexpr double close_enough = 0.01;  // fastest passing and slowest failing rate differ by less
constexpr double slowest_share = 1.0 / 256.0;  // of the rate as keyed; slower mends nothing else
constexpr int most_guesses = 12;

}  // namespace

KeyedStep keyed_step(const Program& program, std::size_t step, Temperature start) {
  const Step& keyed = program.steps[step];
  const Temperature from = step > 0 ? program.steps[step - 1].target : start;
  KeyedStep result{.from = from, .to = keyed.target, .rate = std::nullopt, .hold = keyed.hold};
  const double distance_K = std::abs((keyed.target - from).in_K());
  const std::optional<Duration> time = ramp_time(keyed.pace, from, keyed.target);
  if (distance_K == 0.0) {
    if (time) result.hold += *time;
  } else if (time && time->count() > 0.0) {
    result.rate = Rate::from_K_per_s(distance_K / in_s(*time));
  }
  return result;
}

Program with_rate(const Program& program, std::size_t step, Rate rate) {
  Program changed = program;
  changed.steps[step].pace = rate;
  return changed;
}

std::optional<Rate> passing_rate(const MeasureProgram& measure_program,
                                 const Program& program,
                                 std::size_t step,
                                 Temperature start,
                                 const std::function<double(const Measured&)>& value,
                                 double limit) {
  const KeyedStep keyed = keyed_step(program, step, start);
  const double distance_K = std::abs((keyed.to - keyed.from).in_K());
  if (distance_K == 0.0) return std::nullopt;
  const Measured as_keyed = measure_program(program);
  const double run_s = as_keyed.steps[step].end_s - as_keyed.steps[step].start_s - in_s(keyed.hold);
  const double keyed_K_per_s =
      keyed.rate ? keyed.rate->in_K_per_s() : distance_K / std::max(run_s, 60.0);
  return fastest_passing(
      Rate::from_K_per_s(keyed_K_per_s),
      value(as_keyed),
      [&](Rate rate) { return value(measure_program(with_rate(program, step, rate))); },
      limit);
}

std::optional<Rate> fastest_passing(Rate as_run,
                                    double value_as_run,
                                    const std::function<double(Rate)>& value_at,
                                    double limit) {
  double fails = as_run.in_K_per_s();
  const double slowest = fails * slowest_share;
  double value_fails = value_as_run;
  if (value_fails <= limit) return as_run;

  // Values grow about in proportion to the rate: step down by that, then halve the bracket. Where a
  // value hardly hangs on the rate, each step that fails is followed by a larger one.
  double passes = 0.0;
  double at_most = 0.97;
  for (int run = 0; run < most_guesses; ++run) {
    double next = fails * std::min(limit / value_fails, at_most) * 0.998;
    if (passes > 0.0) next = std::clamp(next, passes * 1.004, fails * 0.996);
    if (next < slowest) return std::nullopt;
    const double value_next = value_at(Rate::from_K_per_s(next));
    if (value_next <= limit) {
      passes = next;
      if (value_next >= limit * (1.0 - close_enough)) break;
      // Too slow a guess: the value is not proportional; go back up half way.
      const double middle = std::sqrt(passes * fails);
      if (middle <= passes * (1.0 + close_enough)) break;
      const double value_middle = value_at(Rate::from_K_per_s(middle));
      if (value_middle <= limit) {
        passes = middle;
      } else {
        fails = middle;
        value_fails = value_middle;
      }
      if (fails <= passes * (1.0 + close_enough)) break;
    } else {
      fails = next;
      value_fails = value_next;
      at_most = passes > 0.0 ? 0.97 : at_most * at_most;
    }
  }
  if (passes == 0.0) return std::nullopt;
  return Rate::from_K_per_s(passes);
}

}  // namespace thickset

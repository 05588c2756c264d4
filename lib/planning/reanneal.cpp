#include "planning/reanneal.h"

#include <algorithm>
#include <cmath>

#include "planning/stages.h"

namespace thickset {
namespace {

/// The heating ends where the tail's hold is: what brings the kiln there is not keyed twice.
Program joined(const Program& heating, const Program& tail) {
  Program whole = tail;
  whole.start = heating.start;
  whole.steps = heating.steps;
  auto first = tail.steps.begin();
  if (first->target == heating.steps.back().target) {
    if (tail.notation == Notation::rate) {
      whole.steps.back().hold = first->hold;
      whole.steps.back().comment = first->comment;
    }
    ++first;  // by time the hold is a row of its own, after the one that brings the kiln there
  }
  whole.steps.insert(whole.steps.end(), first, tail.steps.end());
  return whole;
}

}  // namespace

Reanneal plan_reanneal(const Casting& casting,
                       const Kiln& kiln,
                       const Controller& controller,
                       const TailRequest& asked,
                       Retardation existing,
                       std::optional<Degrees> degrees) {
  const Glass& glass = casting.glass;
  const Temperature hold = asked.hold_temperature.value_or(glass.annealing_point.value);
  const auto rewarm_for = [&](const Controller& set_to) {
    return plan_rewarm(casting, kiln, set_to, asked.firing, asked.limits, existing, hold);
  };
  if (asked.progress) asked.progress("the quickest heating");
  Rewarm rewarm = rewarm_for(controller);

  // The tail is planned as if the piece had come from above, by as much as it is behind: it evens
  // out in the same time.
  TailRequest request = asked;
  request.hold_temperature = hold;
  request.firing.from = hold + rewarm.behind;
  const Rate setting = estimate_rates(casting, request.limits).setting;
  const Hold sized = size_hold(casting, kiln, request.firing, setting, hold, request.shown);
  const Duration relaxing = std::max(sized.relaxing, rewarm.existing_relaxes);
  const Duration needed = sized.arriving + sized.evening + relaxing;
  request.hold_length =
      std::max(asked.hold_length.value_or(Duration{0.0}), minutes(std::ceil(in_min(needed))));
  const HeatUp heat_up{.program = rewarm.program};
  const auto planned = [&] {
    return plan_tail_in_settings(casting, kiln, controller, request, heat_up, degrees);
  };
  TailInSetting anneal = planned();
  // A rate found to be slower than the first guess needs less to be left of the past.
  constexpr int most_tries = 3;
  constexpr auto spare = minutes(5.0);
  for (int i = 0; i < most_tries && in_s(anneal.tail.hold.short_by) > 0.0; ++i) {
    request.hold_length = *request.hold_length + anneal.tail.hold.short_by + spare;
    anneal = planned();
  }
  rewarm = rewarm_for(anneal.set_to);

  Reanneal result{
      .rewarm = std::move(rewarm), .anneal = std::move(anneal), .tail_firing = request.firing};
  result.whole = joined(result.rewarm.program, result.anneal.tail.fitted.program);
  Firing cold = asked.firing;
  cold.from = asked.firing.room;
  bool leaves_little = true;
  for (const Bulk bulk : asked.bulks) {
    const Measured measured = measure(
        casting, kiln, result.anneal.set_to.late_on_cooling, result.whole, cold, {.bulk = bulk});
    result.leaves.push_back({bulk, measured.permanent.retardation});
    leaves_little = leaves_little && measured.permanent.retardation <= asked.limits.grade;
  }
  const Tail& tail = result.anneal.tail;
  result.within = leaves_little && !result.rewarm.existing_over &&
                  result.rewarm.peak_Pa <= asked.limits.tension.in_Pa() &&
                  result.rewarm.cannot.empty() && tail.cannot.empty() &&
                  tail.check.verdict == Verdict::within;
  return result;
}

}  // namespace thickset

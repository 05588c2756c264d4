#include "planning/tail_setup.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/error.h"
#include "checking/rules.h"
#include "planning/hold_choice.h"
#include "units/spoken.h"

namespace thickset {

TailSetup::TailSetup(std::span<const Casting> castings,
                     const Kiln& kiln,
                     const Controller& controller,
                     const TailRequest& request)
    : castings_{castings},
      kiln_{kiln},
      controller_{controller},
      request_{request},
      hold_temperature_{choose_hold_temperature()} {}

Hold TailSetup::size_hold(Rate setting) const {
  Hold hold = size_hold_for_all(
      castings_, kiln_, request_.firing, setting, hold_temperature_, request_.shown);
  if (!request_.hold_length) return hold;
  const Duration spare = *request_.hold_length - hold.needed();
  hold.margin = std::max(spare, Duration{0.0});
  hold.short_by = std::max(-spare, Duration{0.0});
  if (in_s(hold.short_by) > 0.0) {
    hold.notes.push_back(
        fmt::format("the hold that you fixed is too short: {:.0f} min, {:.0f} min less than the "
                    "{:.0f} min found to be needed",
                    in_min(*request_.hold_length),
                    std::ceil(in_min(hold.short_by)),
                    std::ceil(in_min(hold.needed()))));
  }
  return hold;
}

/// In whole degrees of the controller, so that the hold is sized as it is keyed: the user's own,
/// else of a few between floor and annealing point the one with which the whole is quickest.
Temperature TailSetup::choose_hold_temperature() const {
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

Temperature TailSetup::last_target() const {
  return std::max(request_.firing.room + rules::last_target_above_room, controller_.lowest_target);
}

Program TailSetup::to_hold(const Hold& hold) const {
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
Rate TailSetup::own_pace(const Hold& hold) const {
  return kiln_.natural_cooling.rate_at(breaks_off_when_late() ? hold.temperature
                                                              : request_.firing.from);
}

Program TailSetup::keyed_to_hold(const Hold& hold) const {
  return fit_to_controller(to_hold(hold), controller_, request_.firing.from, own_pace(hold))
      .program;
}

Keys TailSetup::keys(const Hold& hold) const {
  return {to_hold(hold), controller_, request_.firing.from, own_pace(hold), steps_available()};
}

Kept TailSetup::kept_by_user(std::size_t stages) const {
  Kept kept = Kept::nothing(stages);
  for (std::size_t i = 0; i < request_.stages.ends.size(); ++i) {
    kept.to[i] = request_.stages.ends[i].has_value();
  }
  for (std::size_t i = 0; i < request_.stages.rates.size(); ++i) {
    kept.rate[i] = request_.stages.rates[i].has_value();
  }
  return kept;
}

Kept TailSetup::kept_in(const Course& course) const {
  Kept kept = kept_by_user(course.size());
  if (!course.rests()) return kept;
  for (std::size_t i = 0; i < course.size(); ++i) {
    if (course.rate_K_per_s[i] <= controller_.smallest_rate.in_K_per_s()) kept.rate[i] = true;
  }
  return kept;
}

void TailSetup::refuse_ends_outside(const Hold& hold) const {
  for (const std::optional<Temperature>& end : request_.stages.ends) {
    if (!end || (*end<hold.temperature&& * end> last_target())) continue;
    throw Error{{"--stage-ends"},
                fmt::format("{} is not between the hold at {} and the last target at {}",
                            spoken(*end, request_.shown),
                            spoken(hold.temperature, request_.shown),
                            spoken(last_target(), request_.shown)),
                "write where each stage ends, all but the last"};
  }
}

CoolDown TailSetup::cool_down_after(const Hold& hold, const Limits& limits) const {
  return {castings_,
          kiln_,
          controller_.late_on_cooling,
          request_.firing,
          keyed_to_hold(hold),
          request_.bulks,
          limits,
          last_target()};
}

StageBounds TailSetup::bounds() const {
  return {kiln_, request_.firing, last_target(), breaks_off_when_late()};
}

StageBounds TailSetup::bounds_for(const Course& course) const {
  if (!course.rests()) return bounds();
  return bounds().with_slowest(controller_.smallest_rate.in_K_per_s());
}

}  // namespace thickset

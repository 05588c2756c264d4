#include "schedule/fit_to_settings.h"

#include <cmath>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "schedule/keyable.h"

namespace thickset {

namespace {

constexpr double alike_share = 1e-3;  // of the program's time
constexpr double nothing_s = 1e-3;    // round-off of times of up to 1000 days

struct Tried {
  Controller set_to;
  FittedProgram fitted;
  int steps;
};

double asked_time_s(const Program& program, Temperature start) {
  double time_s = 0.0;
  for (const Leg& leg : legs(program, start)) {
    const std::optional<Duration> time = ramp_time(leg.pace, *leg.from, leg.to);
    if (time) time_s += in_s(*time);
  }
  return time_s;
}

bool is_better(const Tried& a, const Tried& b, double alike_s) {
  const bool a_can = a.fitted.cannot.empty();
  const bool b_can = b.fitted.cannot.empty();
  if (a_can != b_can) return a_can;
  const double less_s = in_s(b.fitted.lost) - in_s(a.fitted.lost);
  if (std::abs(less_s) > alike_s) return less_s > 0.0;
  return a.steps < b.steps;
}

std::string described(const Tried& tried) {
  std::string text = setting_name(tried.set_to);
  const double lost_s = in_s(tried.fitted.lost);
  if (!tried.fitted.cannot.empty()) {
    text += " cannot be keyed";
    if (lost_s > nothing_s) text += ", " + keyable::duration_text(lost_s) + " off";
    return text;
  }
  text += lost_s > nothing_s ? " loses " + keyable::duration_text(lost_s) : " loses nothing";
  return text + " in " + counted_steps(tried.steps);
}

}  // namespace

std::string counted_steps(int steps) {
  return fmt::format("{} step{}", steps, steps == 1 ? "" : "s");
}

FittedSetting fit_to_settings(const Program& program,
                              const Controller& controller,
                              Temperature start,
                              const OwnPace& own_pace) {
  std::vector<Tried> tried;
  for (const Controller& setting : settings_of(controller)) {
    FittedProgram fitted = fit_to_controller(program, setting, start, own_pace);
    const int steps = steps_used(fitted.program, setting);
    tried.push_back({setting, std::move(fitted), steps});
  }
  const double alike_s = alike_share * asked_time_s(program, program.start.value_or(start));
  std::size_t best = 0;
  for (std::size_t i = 1; i < tried.size(); ++i) {
    if (is_better(tried[i], tried[best], alike_s)) best = i;
  }
  std::string choice;
  if (tried.size() > 1) {
    choice = "set to " + described(tried[best]);
    for (std::size_t i = 0; i < tried.size(); ++i) {
      if (i != best) choice += "; " + described(tried[i]);
    }
  }
  return {tried[best].set_to, std::move(tried[best].fitted), std::move(choice)};
}

}  // namespace thickset

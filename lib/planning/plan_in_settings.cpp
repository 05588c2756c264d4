#include "planning/plan_in_settings.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include <fmt/format.h>

#include "base/error.h"
#include "schedule/fit_to_settings.h"

namespace thickset {

namespace {

constexpr double alike_share = 1e-3;

struct Planned {
  Controller set_to;
  int heat_up_steps;
  Tail tail;

  bool passes() const { return tail.cannot.empty() && tail.check.verdict == Verdict::within; }
  double time_s() const {
    return in_s(tail.check.opens ? tail.check.open_after : tail.check.program_time);
  }
};

bool is_better(const Planned& a, const Planned& b) {
  if (a.passes() != b.passes()) return a.passes();
  const double less_s = b.time_s() - a.time_s();
  if (std::abs(less_s) > alike_share * b.time_s()) return less_s > 0.0;
  return a.tail.steps_used < b.tail.steps_used;
}

std::string described(const Planned& planned) {
  const std::string name = setting_name(planned.set_to);
  if (!planned.tail.cannot.empty()) return name + " cannot be keyed";
  if (!planned.passes()) return name + " is over a limit";
  return fmt::format("{} takes {:.1f} h in {}",
                     name,
                     planned.time_s() / 3600.0,
                     counted_steps(planned.tail.steps_used));
}

std::vector<Controller> settings_to_try(const Controller& controller,
                                        std::optional<Degrees> degrees) {
  const std::vector<Controller> all = settings_of(controller);
  std::vector<Controller> in_degrees_asked;
  for (const Controller& setting : all) {
    if (setting.degrees == degrees) in_degrees_asked.push_back(setting);
  }
  return in_degrees_asked.empty() ? all : in_degrees_asked;
}

}  // namespace

TailInSetting plan_tail_in_settings(std::span<const Casting> castings,
                                    const Kiln& kiln,
                                    const Controller& controller,
                                    const TailRequest& request,
                                    const HeatUp& heat_up,
                                    std::optional<Degrees> degrees) {
  std::vector<Planned> planned;
  std::optional<Error> no_room;
  for (const Controller& setting : settings_to_try(controller, degrees)) {
    int taken = 0;
    try {
      taken = steps_taken(heat_up, setting, request.firing.room);
    } catch (const Error& error) {
      if (!no_room) no_room = error;
      continue;
    }
    TailRequest of_setting = request;
    of_setting.shown = degrees.value_or(setting.degrees);
    of_setting.steps = std::min(request.steps.value_or(setting.steps), setting.steps - taken);
    if (setting.step_form != Controller::StepForm::ramp_and_hold_lines) {
      of_setting.firing.first_step = 1 + taken;
    }
    planned.push_back({setting, taken, plan_tail(castings, kiln, setting, of_setting)});
  }
  if (planned.empty()) throw *no_room;
  std::size_t best = 0;
  for (std::size_t i = 1; i < planned.size(); ++i) {
    if (is_better(planned[i], planned[best])) best = i;
  }
  std::string choice;
  if (planned.size() > 1) {
    choice = "set to " + described(planned[best]);
    for (std::size_t i = 0; i < planned.size(); ++i) {
      if (i != best) choice += "; " + described(planned[i]);
    }
  }
  return {planned[best].set_to,
          planned[best].heat_up_steps,
          std::move(planned[best].tail),
          std::move(choice)};
}

}  // namespace thickset

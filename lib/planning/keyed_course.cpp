#include "planning/keyed_course.h"

#include <algorithm>
#include <cmath>

namespace thickset {
namespace {

constexpr double coarse = 0.05;        // of a rate: a unit this large is worth a search of its own
constexpr double same_rate = 1e-9;     // of a unit: a rate this near to a whole number is one
constexpr double least_time_s = 60.0;  // of a stage

int whole_units(double units) {
  constexpr double most = 1e6;
  return static_cast<int>(std::clamp(units, 1.0, most));
}

}  // namespace

const char* name_of(Limiting limiting) {
  switch (limiting) {
    case Limiting::retardation: return "retardation";
    case Limiting::tension: return "tension";
    case Limiting::kiln: return "kiln";
    case Limiting::controller: return "controller";
    case Limiting::yours: return "yours";
    case Limiting::nothing: return "nothing";
  }
  return "";
}

Keys::Keys(const Program& to_hold,
           const Controller& controller,
           Temperature start,
           Rate own_pace,
           int steps)
    : to_hold_{to_hold},
      controller_{controller},
      start_{start},
      own_pace_{own_pace},
      steps_{steps} {}

double Keys::kelvin_per_degree() const {
  return controller_.degrees == Degrees::celsius ? 1.0 : 1.0 / 1.8;
}

double Keys::rate_unit_K_per_s() const {
  return controller_.rate_step_per_h * kelvin_per_degree() / 3600.0;
}

KeyedCourse Keys::key(const Course& course) const {
  Program planned = to_hold_;
  const std::vector<PlannedStage> stages = stages_of(course);
  for (const PlannedStage& stage : stages) {
    planned.steps.push_back({.target = stage.to,
                             .pace = stage.rate,
                             .hold = stage.rest,
                             .comment = name_of(stage.kind)});
  }
  KeyedCourse keyed{.course = course,
                    .fitted = fit_to_controller(planned, controller_, start_, own_pace_),
                    .outcome = {}};
  keyed.steps_used = thickset::steps_used(keyed.fitted.program, controller_);
  // Ends, rates and rests as they came out.
  std::vector<double> time_s(course.size(), 0.0);
  std::fill(keyed.course.rest_s.begin(), keyed.course.rest_s.end(), 0.0);
  for (const Leg& leg : legs(keyed.fitted.program, start_)) {
    const int stage = keyed.fitted.from_step[static_cast<std::size_t>(leg.step)] - hold_steps();
    if (stage < 0) continue;
    const auto at = static_cast<std::size_t>(stage);
    keyed.course.to_K[at] = leg.to.in_K();
    const std::optional<Duration> time = ramp_time(leg.pace, *leg.from, leg.to);
    if (!time) continue;
    const bool rests = leg.is_hold && course.rests();
    (rests ? keyed.course.rest_s[at] : time_s[at]) += in_s(*time);
  }
  for (std::size_t i = 0; i < course.size(); ++i) {
    if (time_s[i] > 0.0) keyed.course.rate_K_per_s[i] = keyed.course.width_K(i) / time_s[i];
  }
  return keyed;
}

KeyedCourse Keys::try_out(const Course& course,
                          const CoolDown& cool_down,
                          std::span<const CoolDown::Case> cases) const {
  KeyedCourse keyed = key(course);
  std::vector<Step> steps;
  std::vector<std::size_t> stage_of_step;
  for (std::size_t i = 0; i < keyed.fitted.from_step.size(); ++i) {
    const int stage = keyed.fitted.from_step[i] - hold_steps();
    if (stage < 0) continue;
    steps.push_back(keyed.fitted.program.steps[i]);
    stage_of_step.push_back(static_cast<std::size_t>(stage));
  }
  keyed.outcome = cool_down.run(steps, cases);
  std::vector<double> of_stage(course.size(), 0.0);
  stage_of_step.push_back(course.size() - 1);  // what comes after the program
  for (std::size_t i = 0; i < stage_of_step.size(); ++i) {
    double& tension = of_stage[stage_of_step[i]];
    tension = std::max(tension, keyed.outcome.tension[i]);
  }
  keyed.outcome.tension = std::move(of_stage);
  return keyed;
}

Course Keys::with_rate(Course course, std::size_t stage, int units) const {
  double& rate_K_per_s = course.rate_K_per_s[stage];
  if (controller_.notation() == Notation::rate) {
    const double least_K_per_s = controller_.smallest_rate.in_K_per_s();
    rate_K_per_s = std::max(rate_K_per_s + units * rate_unit_K_per_s(), least_K_per_s);
  } else {
    const double time_s = course.asked_s(stage) - units * in_s(controller_.time_step);
    rate_K_per_s = course.width_K(stage) / std::max(time_s, least_time_s);
  }
  return course;
}

Course Keys::with_end(Course course, std::size_t stage, int units) const {
  course.to_K[stage] += units * controller_.degree_step * kelvin_per_degree();
  return course;
}

Course Keys::with_rest(Course course, std::size_t stage, int units) const {
  const double unit_s = in_s(controller_.time_step);
  course.rest_s[stage] = std::max(course.rest_s[stage] + units * unit_s, unit_s);
  return course;
}

int Keys::units_of(double share, const Course& course, std::size_t stage) const {
  const double units = controller_.notation() == Notation::rate
                           ? share * course.rate_K_per_s[stage] / rate_unit_K_per_s()
                           : share * course.asked_s(stage) / in_s(controller_.time_step);
  return whole_units(units);
}

int Keys::units_of_rest(double share, const Course& course, std::size_t stage) const {
  return whole_units(share * course.rest_s[stage] / in_s(controller_.time_step));
}

std::optional<Keys::Neighbours> Keys::coarse_neighbours(double rate_K_per_s) const {
  if (controller_.notation() != Notation::rate) return std::nullopt;
  const double unit_K_per_s = rate_unit_K_per_s();
  if (unit_K_per_s < coarse * rate_K_per_s) return std::nullopt;
  const double below_K_per_s = unit_K_per_s * std::floor(rate_K_per_s / unit_K_per_s + same_rate);
  const double least_K_per_s = controller_.smallest_rate.in_K_per_s() * (1.0 - same_rate);
  Neighbours neighbours;
  if (below_K_per_s >= least_K_per_s) neighbours.below_K_per_s = below_K_per_s;
  const double above_K_per_s =
      std::max(below_K_per_s + unit_K_per_s, controller_.smallest_rate.in_K_per_s());
  neighbours.above_K_per_s = above_K_per_s;
  return neighbours;
}

}  // namespace thickset

#include "planning/cool_down.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <variant>

#include "checking/rules.h"
#include "simulation/glass_course.h"
#include "stress/retardation.h"

namespace thickset {
namespace {

using conduction::Solver;

constexpr double arrived_K = 1e-6;  // as near to a corner of the air as counts as there

/// Slab, rod and ball are simulated as they are: one body serves every respect.
bool stands_for_itself(const Shape& shape) {
  return std::holds_alternative<Slab>(shape) || std::holds_alternative<Rod>(shape) ||
         std::holds_alternative<Ball>(shape);
}

void follow_step(const Solver& solver,
                 GlassCourse& glass_course,
                 std::span<stress::RelaxingBody> bodies) {
  const stress::RelaxingBody::Course course = glass_course.of(solver);
  for (stress::RelaxingBody& body : bodies) body.advance(course);
}

}  // namespace

std::size_t CoolDown::Outcome::governing() const {
  return static_cast<std::size_t>(std::max_element(left.begin(), left.end()) - left.begin());
}

double CoolDown::Outcome::worst() const {
  return std::max(left[governing()], *std::max_element(tension.begin(), tension.end()));
}

CoolDown::CoolDown(std::span<const Casting> castings,
                   const Kiln& kiln,
                   Controller::LateOnCooling late,
                   const Firing& firing,
                   const Program& to_hold_end,
                   std::span<const Bulk> bulks,
                   const Limits& limits,
                   Temperature end)
    : castings_{castings.begin(), castings.end()},
      kiln_{kiln},
      late_{late},
      firing_{firing},
      limits_{limits},
      hold_{to_hold_end.steps.back().target},
      end_{end} {
  const AirCurve air = follow(to_hold_end, kiln, late, start_of(to_hold_end, firing)).air;
  for (std::size_t i = 0; i < castings_.size(); ++i) {
    for (std::size_t j = 0; j < bulks.size(); ++j) cases_.push_back({i, j});
    add_states(castings_[i], air, bulks);
  }
}

void CoolDown::add_states(const Casting& casting,
                          const AirCurve& air,
                          std::span<const Bulk> bulks) {
  const double start_K = air.corners.front().T_K;
  const auto add = [&](Respect respect, bool for_tension, bool for_permanent) {
    auto model = std::make_unique<const SolidModel>(casting, kiln_, respect);
    const Eigen::ArrayXd T_K = Eigen::ArrayXd::Constant(model->body().nodes(), start_K);
    const Eigen::ArrayXd glass_K = Eigen::ArrayXd::Constant(model->glass().nodes(), start_K);
    State state{.casting = static_cast<std::size_t>(&casting - castings_.data()),
                .for_tension = for_tension,
                .for_permanent = for_permanent,
                .allowed_permanent_Pa = stress::stress_of_retardation_Pa(
                    casting.glass.stress_optical_per_Pa.value, limits_.grade),
                .solver = {model->body(), model->inner(), model->outer(), air, T_K},
                .of_bulk = {},
                .model = nullptr};
    for (const Bulk bulk : bulks) state.of_bulk.push_back(model->relaxing_body(bulk, glass_K));
    GlassCourse glass_course{*model};
    state.model = std::move(model);
    while (state.solver.advance()) follow_step(state.solver, glass_course, state.of_bulk);
    states_.push_back(std::move(state));
  };
  if (stands_for_itself(casting.governing_shape())) {
    add(Respect::permanent_tension, true, true);
  } else {
    add(Respect::steady_difference, true, false);
    add(Respect::permanent_tension, false, true);
  }
}

AirCurve CoolDown::air_of(const Casting& casting, std::span<const Step> steps) const {
  Program program;
  program.start = hold_;
  program.steps.assign(steps.begin(), steps.end());
  return follow(with_fall_to_room(program, casting, firing_), kiln_, late_, hold_).air;
}

double CoolDown::time_s(const AirCurve& air) const {
  const double end_K = end_.in_K() + arrived_K;
  for (std::size_t i = 1; i < air.corners.size(); ++i) {
    const AirCurve::Corner& after = air.corners[i];
    if (after.T_K > end_K) continue;
    const AirCurve::Corner& before = air.corners[i - 1];
    if (before.T_K <= end_K) return before.time_s;
    const double share = (before.T_K - end_K) / (before.T_K - after.T_K);
    return before.time_s + share * (after.time_s - before.time_s);
  }
  return air.end_s();
}

double CoolDown::time_s(std::span<const Step> steps) const {
  return time_s(air_of(castings_.front(), steps));
}

CoolDown::Outcome CoolDown::run(std::span<const Step> steps, std::span<const Case> cases) const {
  std::vector<AirCurve> air;  // of each casting: they differ in the fall after the program
  for (const Casting& casting : castings_) air.push_back(air_of(casting, steps));
  Outcome outcome;
  outcome.left.assign(cases.size(), 0.0);
  outcome.tension.assign(steps.size() + 1, 0.0);
  outcome.time_s = time_s(air.front());
  for (const State& state : states_) run_state(state, air[state.casting], cases, outcome);
  return outcome;
}

void CoolDown::run_state(const State& state,
                         const AirCurve& air,
                         std::span<const Case> cases,
                         Outcome& outcome) const {
  std::vector<stress::RelaxingBody> bodies;
  std::vector<std::size_t> case_of_body;
  for (std::size_t i = 0; i < cases.size(); ++i) {
    if (cases[i].casting != state.casting) continue;
    bodies.push_back(state.of_bulk[cases[i].bulk]);
    case_of_body.push_back(i);
  }
  if (bodies.empty()) return;
  Solver solver{state.solver, air};
  GlassCourse glass_course{*state.model};
  const double surface_factor = state.model->surface_tension_factor();
  const double limit_Pa = limits_.tension.in_Pa();
  while (solver.advance()) {
    follow_step(solver, glass_course, bodies);
    if (!state.for_tension) continue;
    const int step = std::max(air.corners[solver.corner()].step, 0);
    double& tension = outcome.tension[static_cast<std::size_t>(step)];
    for (const stress::RelaxingBody& body : bodies) {
      tension = std::max({tension,
                          body.peak_tension_Pa() / limit_Pa,
                          surface_factor * body.peak_surface_Pa() / limit_Pa});
    }
  }
  if (!state.for_permanent) return;
  for (std::size_t i = 0; i < bodies.size(); ++i) {
    outcome.left[case_of_body[i]] =
        std::max(bodies[i].centre_Pa(), bodies[i].stress_Pa().maxCoeff()) /
        state.allowed_permanent_Pa;
  }
}

}  // namespace thickset

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

CoolDown::Outcome empty_outcome(std::size_t cases, std::size_t steps) {
  return {std::vector<double>(cases, 0.0), std::vector<double>(steps + 1, 0.0), 0.0};
}

/// How many corners two curves have in common, from the first on.
std::size_t same_corners(const AirCurve& a, const AirCurve& b) {
  const auto same = [](const AirCurve::Corner& one, const AirCurve::Corner& other) {
    return one.time_s == other.time_s && one.T_K == other.T_K && one.step == other.step;
  };
  const auto part =
      std::mismatch(a.corners.begin(), a.corners.end(), b.corners.begin(), b.corners.end(), same);
  return static_cast<std::size_t>(part.first - a.corners.begin());
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

std::vector<AirCurve> CoolDown::air_of(std::span<const Step> steps) const {
  std::vector<AirCurve> air;  // castings differ in the fall after the program
  for (const Casting& casting : castings_) air.push_back(air_of(casting, steps));
  return air;
}

CoolDown::Outcome CoolDown::run(std::span<const Step> steps, std::span<const Case> cases) const {
  const std::vector<AirCurve> air = air_of(steps);
  Outcome outcome = empty_outcome(cases.size(), steps.size());
  outcome.time_s = time_s(air.front());
  for (const State& state : states_) {
    Way way = start(state, air[state.casting], cases, steps.size());
    go(state, air[state.casting], way, [](std::size_t) {});
    add(state, way, cases, outcome);
  }
  return outcome;
}

CoolDown::Trunk CoolDown::trunk(std::span<const Step> steps, std::span<const Case> cases) const {
  Trunk trunk;
  trunk.cases_.assign(cases.begin(), cases.end());
  trunk.air_ = air_of(steps);
  trunk.outcome_ = empty_outcome(cases.size(), steps.size());
  trunk.outcome_.time_s = time_s(trunk.air_.front());
  for (const State& state : states_) {
    std::vector<Trunk::Stand> stands;
    Way way = start(state, trunk.air_[state.casting], cases, steps.size());
    go(state, trunk.air_[state.casting], way, [&](std::size_t corner) {
      stands.push_back({corner, way});
    });
    add(state, way, cases, trunk.outcome_);
    trunk.stands_.push_back(std::move(stands));
  }
  return trunk;
}

CoolDown::Outcome CoolDown::branch(const Trunk& trunk, std::span<const Step> steps) const {
  const std::vector<AirCurve> air = air_of(steps);
  Outcome outcome = empty_outcome(trunk.cases_.size(), steps.size());
  outcome.time_s = time_s(air.front());
  for (std::size_t i = 0; i < states_.size(); ++i) {
    const State& state = states_[i];
    const AirCurve& own = air[state.casting];
    const std::size_t same = same_corners(own, trunk.air_[state.casting]);
    const std::vector<Trunk::Stand>& stands = trunk.stands_[i];
    const auto last = std::find_if(stands.rbegin(), stands.rend(), [&](const Trunk::Stand& stand) {
      return stand.corner < same;
    });
    const bool from_start = last == stands.rend();
    Way way = from_start ? start(state, own, trunk.cases_, steps.size()) : last->way;
    way.tension.resize(steps.size() + 1, 0.0);
    way.solver.turn_to(own);
    go(state, own, way, [](std::size_t) {});
    add(state, way, trunk.cases_, outcome);
  }
  return outcome;
}

CoolDown::Way CoolDown::start(const State& state,
                              const AirCurve& air,
                              std::span<const Case> cases,
                              std::size_t steps) {
  Way way{Solver{state.solver, air}, {}, std::vector<double>(steps + 1, 0.0)};
  for (const Case& one : cases) {
    if (one.casting == state.casting) way.bodies.push_back(state.of_bulk[one.bulk]);
  }
  return way;
}

/// To the end of the air. at_step is told the corner at which another step begins, each time.
template <class AtStep>
void CoolDown::go(const State& state, const AirCurve& air, Way& way, AtStep&& at_step) const {
  if (way.bodies.empty()) return;
  const std::vector<AirCurve::Corner>& corners = air.corners;
  const double surface_factor = state.model->surface_tension_factor();
  const double limit_Pa = limits_.tension.in_Pa();
  GlassCourse glass_course{*state.model};
  while (way.solver.advance()) {
    follow_step(way.solver, glass_course, way.bodies);
    const std::size_t corner = way.solver.corner();
    if (state.for_tension) {
      double& tension = way.tension[static_cast<std::size_t>(std::max(corners[corner].step, 0))];
      for (const stress::RelaxingBody& body : way.bodies) {
        tension = std::max({tension,
                            body.peak_tension_Pa() / limit_Pa,
                            surface_factor * body.peak_surface_Pa() / limit_Pa});
      }
    }
    const bool lands = way.solver.time_s() == corners[corner].time_s;
    if (lands && corner + 1 < corners.size() && corners[corner + 1].step > corners[corner].step) {
      at_step(corner);
    }
  }
}

void CoolDown::add(const State& state,
                   const Way& way,
                   std::span<const Case> cases,
                   Outcome& outcome) {
  for (std::size_t i = 0; i < way.tension.size(); ++i) {
    outcome.tension[i] = std::max(outcome.tension[i], way.tension[i]);
  }
  if (!state.for_permanent) return;
  auto body = way.bodies.begin();
  for (std::size_t i = 0; i < cases.size(); ++i) {
    if (cases[i].casting != state.casting) continue;
    outcome.left[i] =
        std::max(body->centre_Pa(), body->stress_Pa().maxCoeff()) / state.allowed_permanent_Pa;
    ++body;
  }
}

}  // namespace thickset

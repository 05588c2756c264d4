#include "planning/cool_down.h"

#include <algorithm>
#include <variant>

#include "conduction/solve.h"

namespace thickset {
namespace {

using conduction::Face;
using conduction::Solver;

/// Slab, rod and ball are simulated as they are: one body serves every respect.
bool stands_for_itself(const Shape& shape) {
  return std::holds_alternative<Slab>(shape) || std::holds_alternative<Rod>(shape) ||
         std::holds_alternative<Ball>(shape);
}

void follow_step(const Solver& solver, std::vector<stress::RelaxingBody>& bodies) {
  for (stress::RelaxingBody& body : bodies) {
    body.advance({.before_K = solver.T_before_K(),
                  .after_K = solver.T_K(),
                  .slope_before_K_per_s = solver.slope_before_K_per_s(),
                  .slope_after_K_per_s = solver.slope_K_per_s(),
                  .dt_s = solver.time_s() - solver.before_s()});
  }
}

}  // namespace

CoolDown::CoolDown(const Casting& casting,
                   const Kiln& kiln,
                   Controller::LateOnCooling late,
                   const Firing& firing,
                   const Program& to_hold_end,
                   std::span<const Bulk> bulks)
    : casting_{casting},
      kiln_{kiln},
      late_{late},
      firing_{firing},
      hold_{to_hold_end.steps.back().target} {
  const AirCurve air = follow(to_hold_end, kiln, late, start_of(to_hold_end, firing)).air;
  if (stands_for_itself(casting.governing_shape())) {
    states_.push_back(at_hold_end(Respect::permanent_tension, air, bulks));
  } else {
    states_.push_back(at_hold_end(Respect::steady_difference, air, bulks));
    states_.push_back(at_hold_end(Respect::permanent_tension, air, bulks));
  }
}

CoolDown::State CoolDown::at_hold_end(Respect respect,
                                      const AirCurve& air,
                                      std::span<const Bulk> bulks) const {
  State state{.model = SolidModel{casting_, kiln_, respect}, .T_K = {}, .of_bulk = {}};
  state.T_K = Eigen::ArrayXd::Constant(state.model.body().nodes(), air.corners.front().T_K);
  for (const Bulk bulk : bulks) {
    state.of_bulk.push_back(state.model.relaxing_body(bulk, state.T_K));
  }
  Solver solver{state.model.body(), Face::insulated(), state.model.outer(), air, state.T_K};
  while (solver.advance()) follow_step(solver, state.of_bulk);
  state.T_K = solver.T_K();
  return state;
}

CoolDown::Outcome CoolDown::run(std::span<const PlannedStage> stages,
                                std::optional<std::size_t> only) const {
  Program program;
  program.start = hold_;
  for (const PlannedStage& stage : stages) {
    program.steps.push_back({.target = stage.to, .pace = stage.rate, .hold = Duration{0.0}});
  }
  const AirCurve air =
      follow(with_fall_to_room(program, casting_, firing_), kiln_, late_, hold_).air;

  Outcome outcome;
  outcome.tension_Pa.assign(stages.size() + 1, 0.0);
  for (const AirCurve::Corner& corner : air.corners) {
    if (corner.step < static_cast<int>(stages.size())) outcome.time_s = corner.time_s;
  }
  for (const State& state : states_) {
    std::vector<stress::RelaxingBody> bodies = state.of_bulk;
    if (only) bodies = {state.of_bulk[*only]};
    Solver solver{state.model.body(), Face::insulated(), state.model.outer(), air, state.T_K};
    const double surface_factor = state.model.surface_tension_factor();
    while (solver.advance()) {
      follow_step(solver, bodies);
      const int step = std::max(air.corners[solver.corner()].step, 0);
      double& tension_Pa = outcome.tension_Pa[static_cast<std::size_t>(step)];
      if (&state != &states_.front()) continue;  // tension is the first body's affair
      for (const stress::RelaxingBody& body : bodies) {
        tension_Pa =
            std::max({tension_Pa, body.peak_tension_Pa(), surface_factor * body.peak_surface_Pa()});
      }
    }
    if (&state != &states_.back()) continue;  // permanent stress is the last one's
    for (std::size_t i = 0; i < bodies.size(); ++i) {
      const double left_Pa = std::max(bodies[i].centre_Pa(), bodies[i].stress_Pa().maxCoeff());
      if (left_Pa <= outcome.permanent_Pa) continue;
      outcome.permanent_Pa = left_Pa;
      outcome.governing = only.value_or(i);
    }
  }
  return outcome;
}

}  // namespace thickset

#pragma once

/// W4, planning: the quickest cool-down in three stages, by our planner and by general-purpose
/// optimisers around the same simulation.
namespace thickset::bench {

/// What one planner makes of it.
struct PlanRun {
  double time_h = 0.0;    ///< of the cool-down it found
  double of_limit = 0.0;  ///< the worst share of a limit, by our simulation
  int simulations = 0;    ///< that it asked for; 0: not counted
};

enum class General {
  cobyla,  ///< NLopt's COBYLA [POW94]: limits as constraints
  sbplx,   ///< NLopt's Sbplx [ROW90]: limits as a penalty
};

/// The state at the end of the hold, the bands and the search: all that a plan takes.
PlanRun plan_by_ours();

/// The same state, then the optimiser from four starts, the best of what it finds.
PlanRun plan_by(General method);

/// Median time of one simulation from the end of the hold, as all of them ask for.
double simulation_ms();

}  // namespace thickset::bench

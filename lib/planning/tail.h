#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/progress.h"
#include "planning/fastest_stages.h"
#include "planning/hold_choice.h"
#include "planning/settle.h"
#include "planning/stages.h"
#include "schedule/fit_to_controller.h"

namespace thickset {

/// One stage of the cool-down as it is keyed.
struct Stage {
  PlannedStage::Kind kind;
  Temperature to;
  Rate rate;                                   ///< as keyed, after rounding
  Limiting limiting;                           ///< what keeps it from being one unit faster
  Duration rest{0.0};                          ///< held at its end
  Limiting limiting_rest = Limiting::nothing;  ///< what keeps the rest from being one unit shorter
  bool binding() const { return is_limit(limiting); }
};

struct TailRequest {
  Limits limits;
  Firing firing;
  std::optional<Temperature> hold_temperature;
  std::optional<Duration> hold_length;
  StageWishes stages{};
  Degrees shown = Degrees::celsius;  ///< of the notes' sentences
  std::optional<int>
      steps{};                ///< fewer than the controller has, when some are taken by the heat-up
  bool fewest_steps = false;  ///< the fewest that take at most 5 % longer than the quickest
  bool all_prices = false;    ///< those of every number of stages, not of one fewer alone
  std::vector<Bulk> bulks{all_bulks.begin(), all_bulks.end()};  ///< to hold to
  Progress progress{};
};

/// What a number of stages costs.
struct StagePrice {
  std::size_t stages;
  int steps_used;
  Duration cool_down;  ///< from the end of the hold until the kiln is at the last target
  double left;         ///< permanent tension over its limit, under the treatment that leaves most
  double over_least;   ///< of the hold and cool-down together, over that with the many-banded one
};

/// What would shorten the cooling and by how much, before whole numbers: a tenth more of a limit,
/// an hour more of hold.
struct LimitPrices {
  static constexpr double eased = 1.1;
  Duration of_grade{0.0}, of_tension{0.0}, of_an_hour{0.0};
};

/// A tail as a controller takes it, and the check of exactly that program.
struct Tail {
  Hold hold;
  std::vector<Stage> stages;
  FittedProgram fitted;
  int steps_used = 0;
  CheckResult check;                ///< of the first casting
  std::vector<CheckResult> others;  ///< of the other castings in the kiln, in their order
  std::size_t governing = 0;        ///< the casting that comes nearest to a limit
  StageEstimate estimate;           ///< closed form, before any simulation
  std::vector<StagePrice> prices;   ///< by stages, fewest first, each quicker than the one before
  LimitPrices limit_prices{};
  Course banded{};                ///< the many-banded cool-down, before any whole numbers
  Course planned{};               ///< the stages found, before any whole numbers
  Duration least_cool_down{0.0};  ///< of the many-banded cool-down: no stages get below by much
  std::vector<std::string> notes;
  /// Why no tail keeps the limits with this controller, empty where one does; the tail is then the
  /// nearest one.
  std::vector<std::string> cannot;
};

/// The quickest tail found that is simulated to stay within the limits in the steps that the
/// controller has: the hold sized, the quickest stages searched, brought into whole numbers, and
/// exactly that program checked.
///
/// castings: all that stand in the kiln, at least one; the tail is for all of them.
/// Throws: Error when the input cannot be simulated or the castings cannot share a hold.
Tail plan_tail(std::span<const Casting> castings,
               const Kiln& kiln,
               const Controller& controller,
               const TailRequest& request);

inline Tail plan_tail(const Casting& casting,
                      const Kiln& kiln,
                      const Controller& controller,
                      const TailRequest& request) {
  return plan_tail(std::span{&casting, 1}, kiln, controller, request);
}

}  // namespace thickset

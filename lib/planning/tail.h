#pragma once

#include "planning/hold.h"
#include "planning/stages.h"
#include "schedule/fit_to_controller.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// One stage of the cool-down as it is keyed.
struct Stage {
  PlannedStage::Kind kind;
  Temperature to;
  Rate rate;             ///< as keyed, after rounding
  Rate asked;            ///< before rounding
  bool binding = false;  ///< 25 % faster fails the check, which names it
  std::string limit;     ///< "retardation", "tension", "kiln", "whole numbers", "gradual", "none"
};

struct TailRequest {
  Limits limits;
  Firing firing;
  std::optional<Temperature> hold_temperature;
  std::optional<Duration> hold_length;
  Degrees shown = Degrees::celsius;  ///< of the notes' sentences
  std::optional<int> steps;  ///< fewer than the controller has, when some are taken by the heat-up
};

/// A tail as a controller takes it, and the check of exactly that program.
struct Tail {
  Hold hold;
  std::vector<Stage> stages;
  FittedProgram fitted;
  int steps_used = 0;
  CheckResult check;
  StageEstimate estimate;  ///< closed form, before any simulation
  std::vector<std::string> notes;
  /// Why no tail keeps the limits with this controller, empty where one does; the tail is then the
  /// nearest one.
  std::vector<std::string> cannot;
};

/// Closed-form estimate -> stages -> rounding for the controller -> simulation of the rounded
/// program
/// -> corrected until it passes.
Tail plan_tail(const Casting& casting,
               const Kiln& kiln,
               const Controller& controller,
               const TailRequest& request);

}  // namespace thickset

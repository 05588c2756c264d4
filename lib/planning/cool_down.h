#pragma once

#include <optional>
#include <span>
#include <vector>

#include "checking/measure.h"
#include "planning/stages.h"
#include "simulation/solid_model.h"

namespace thickset {

/// Trial cool-downs of one casting from the end of one hold, each simulated without the fall and
/// the hold before it, which are all the same.
class CoolDown {
 public:
  /// to_hold_end: the program up to and with the hold. bulks: treatments of the bulk to hold a
  /// cool-down to, at least one.
  /// Throws: Error when the input cannot be simulated.
  CoolDown(const Casting& casting,
           const Kiln& kiln,
           Controller::LateOnCooling late,
           const Firing& firing,
           const Program& to_hold_end,
           std::span<const Bulk> bulks);

  struct Outcome {
    double permanent_Pa = 0.0;       ///< largest tension left in the middle, of all treatments
    std::size_t governing = 0;       ///< the treatment that leaves it
    std::vector<double> tension_Pa;  ///< largest anywhere in each stage, of all treatments
    double time_s = 0.0;  ///< from the end of the hold until the kiln is at the last target
  };
  /// only: one treatment instead of all.
  Outcome run(std::span<const PlannedStage> stages,
              std::optional<std::size_t> only = std::nullopt) const;

  Temperature hold() const { return hold_; }

 private:
  /// The casting at the end of the hold, as it stands for one respect.
  struct State {
    SolidModel model;
    Eigen::ArrayXd T_K;
    std::vector<stress::RelaxingBody> of_bulk;
  };
  State at_hold_end(Respect respect, const AirCurve& air, std::span<const Bulk> bulks) const;

  Casting casting_;
  Kiln kiln_;
  Controller::LateOnCooling late_;
  Firing firing_;
  Temperature hold_;
  std::vector<State> states_;  ///< one where a body is right for tension and permanent stress
};

}  // namespace thickset

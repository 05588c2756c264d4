#pragma once

#include <algorithm>
#include <span>

#include "planning/cool_down.h"
#include "planning/keyed_course.h"
#include "planning/stage_search.h"
#include "planning/tail.h"

namespace thickset {

/// What stays the same while one tail is planned: castings, kiln, controller, request and the
/// hold's temperature, and what follows from them.
class TailSetup {
 public:
  /// Chooses the hold's temperature. All must outlive it.
  /// Throws: Error where castings cannot share a hold.
  TailSetup(std::span<const Casting> castings,
            const Kiln& kiln,
            const Controller& controller,
            const TailRequest& request);

  std::span<const Casting> castings() const { return castings_; }
  const Casting& casting() const { return castings_.front(); }
  const Kiln& kiln() const { return kiln_; }
  const Controller& controller() const { return controller_; }
  const TailRequest& request() const { return request_; }
  Temperature hold_temperature() const { return hold_temperature_; }

  void say(const std::string& what) const {
    if (request_.progress) request_.progress(what);
  }

  /// As the user fixed its length, else as long as it needs to be before this rate.
  Hold size_hold(Rate setting) const;

  /// Warm enough to be reached, and no lower than can be keyed.
  Temperature last_target() const;
  /// The user's own ends lie between the hold and the last target. Throws: Error.
  void refuse_ends_outside(const Hold& hold) const;

  int steps_available() const {
    return std::min(request_.steps.value_or(controller_.steps), controller_.steps);
  }
  Program keyed_to_hold(const Hold& hold) const;  ///< up to and with the hold
  int steps_after(const Hold& hold) const {
    return std::max(steps_available() - steps_used(keyed_to_hold(hold), controller_), 1);
  }
  Keys keys(const Hold& hold) const;

  CoolDown cool_down_after(const Hold& hold, const Limits& limits) const;
  CoolDown cool_down_after(const Hold& hold) const {
    return cool_down_after(hold, request_.limits);
  }

  StageBounds bounds() const;
  /// Beside rests no stage is slower than the controller can be told: else it would need none.
  StageBounds bounds_for(const Course& course) const;
  /// Where only whole rates are keyed, and the user has fixed none.
  bool may_rest() const {
    return controller_.notation() == Notation::rate && !request_.stages.stages();
  }

  Kept kept_by_user(std::size_t stages) const;
  /// What a search from this course may not change: what the user fixed, and beside rests the rates
  /// that are the controller's slowest.
  Kept kept_in(const Course& course) const;

 private:
  Temperature choose_hold_temperature() const;
  bool breaks_off_when_late() const {
    return controller_.late_on_cooling == Controller::LateOnCooling::stops;
  }
  Program to_hold(const Hold& hold) const;
  Rate own_pace(const Hold& hold) const;

  std::span<const Casting> castings_;
  const Kiln& kiln_;
  const Controller& controller_;
  const TailRequest& request_;
  Temperature hold_temperature_;
};

}  // namespace thickset

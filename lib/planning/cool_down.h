#pragma once

#include <memory>
#include <span>
#include <vector>

#include "checking/limits.h"
#include "checking/measure.h"
#include "conduction/solve.h"
#include "simulation/solid_model.h"

namespace thickset {

/// Trial cool-downs from the end of one hold, each simulated without the fall and the hold before
/// it, which are all the same: of one casting or of several in one kiln, each under several
/// treatments of the bulk.
class CoolDown {
 public:
  /// In: to_hold_end, the program up to and with the hold; castings and bulks, at least one each;
  ///     end, the last target, to which a cool-down's time is counted.
  /// Throws: Error when the input cannot be simulated.
  CoolDown(std::span<const Casting> castings,
           const Kiln& kiln,
           Controller::LateOnCooling late,
           const Firing& firing,
           const Program& to_hold_end,
           std::span<const Bulk> bulks,
           const Limits& limits,
           Temperature end);

  /// One casting under one treatment.
  struct Case {
    std::size_t casting = 0;
    std::size_t bulk = 0;
    bool operator==(const Case&) const = default;
  };
  struct Outcome {
    std::vector<double> left;     ///< of each case: permanent tension in the middle over its limit
    std::vector<double> tension;  ///< largest in each step over its limit; last: after the program
    double time_s = 0.0;          ///< until the kiln is at `end`
    std::size_t governing() const;  ///< the case that leaves most
    double worst() const;           ///< of all: within the limits up to 1
  };
  /// In: steps, those after the hold; cases, those to simulate.
  Outcome run(std::span<const Step> steps, std::span<const Case> cases) const;
  Outcome run(std::span<const Step> steps) const { return run(steps, cases_); }

  /// A run that is remembered at the beginning of each of its steps.
  class Trunk;
  /// The outcome is put into the trunk.
  Trunk trunk(std::span<const Step> steps, std::span<const Case> cases) const;
  /// The same as run(steps, cases of the trunk), to the bit, but goes on from where the two part.
  Outcome branch(const Trunk& trunk, std::span<const Step> steps) const;

  std::span<const Case> cases() const { return cases_; }

  /// until the kiln is at `end`, without simulating the glass.
  double time_s(std::span<const Step> steps) const;

  Temperature hold() const { return hold_; }
  Temperature end() const { return end_; }

 private:
  /// A casting at the end of the hold, as it stands for one respect.
  struct State {
    std::size_t casting;
    bool for_tension, for_permanent;  ///< what it is right for; slab, rod and ball for both
    double allowed_permanent_Pa;
    conduction::Solver solver;
    std::vector<stress::RelaxingBody> of_bulk;
    std::unique_ptr<const SolidModel> model;  ///< stays where the solver knows its body
  };
  /// Some bodies of a state on their way: those of the cases asked for.
  struct Way {
    conduction::Solver solver;
    std::vector<stress::RelaxingBody> bodies;
    std::vector<double> tension;  ///< as of an outcome, so far
  };
  std::vector<AirCurve> air_of(std::span<const Step> steps) const;  ///< of each casting
  AirCurve air_of(const Casting& casting, std::span<const Step> steps) const;
  double time_s(const AirCurve& air) const;
  void add_states(const Casting& casting, const AirCurve& air, std::span<const Bulk> bulks);
  static Way start(const State& state,
                   const AirCurve& air,
                   std::span<const Case> cases,
                   std::size_t steps);
  template <class AtStep>
  void go(const State& state, const AirCurve& air, Way& way, AtStep&& at_step) const;
  static void add(const State& state,
                  const Way& way,
                  std::span<const Case> cases,
                  Outcome& outcome);

  std::vector<Casting> castings_;
  std::vector<Case> cases_;
  Kiln kiln_;
  Controller::LateOnCooling late_;
  Firing firing_;
  Limits limits_;
  Temperature hold_, end_;
  std::vector<State> states_;
};

class CoolDown::Trunk {
 public:
  const Outcome& outcome() const { return outcome_; }

 private:
  friend class CoolDown;
  /// Where a step begins, at a corner of the air.
  struct Stand {
    std::size_t corner;
    Way way;
  };
  std::vector<Case> cases_;
  std::vector<AirCurve> air_;               ///< of each casting
  std::vector<std::vector<Stand>> stands_;  ///< of each state
  Outcome outcome_;
};

}  // namespace thickset

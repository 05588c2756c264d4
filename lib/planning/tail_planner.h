#pragma once

#include <optional>
#include <vector>

#include "planning/fastest_stages.h"
#include "planning/resting_stages.h"
#include "planning/settle.h"
#include "planning/tail_setup.h"

namespace thickset {

/// Plans one tail: sizes the hold, searches the stages, brings them into whole numbers and checks
/// exactly that program.
class TailPlanner {
 public:
  /// As TailSetup.
  TailPlanner(std::span<const Casting> castings,
              const Kiln& kiln,
              const Controller& controller,
              const TailRequest& request)
      : setup_{castings, kiln, controller, request} {}

  /// nullopt: no tail was found that can be keyed and keeps the limits.
  std::optional<Tail> plan() const;

  /// Whether plan() gives one, in a part of its time.
  bool can_plan() const;

  /// In: the tail that plan() gave.
  void price_limits(Tail& tail) const;

  /// The quickest stages as nearly as they can be keyed, whatever they leave.
  Tail as_nearly_as_can_be_keyed() const;

  /// What the slowest single stage that can be keyed comes to. No tail without rests needs less of
  /// either limit; a rest may leave less stress, `left` is then at most 1.
  struct Least {
    double left, tension;
  };
  Least least() const;

  void check_as_keyed(Tail& tail, const Limits& limits) const;

  Temperature hold_temperature() const { return setup_.hold_temperature(); }

 private:
  Least least_after(const Hold& hold, const CoolDown& cool_down) const;
  std::vector<FoundStages> found_with_hold(Tail& tail) const;
  std::vector<FoundStages> find(Tail& tail) const;
  void settle(Tail& tail, const std::vector<FoundStages>& found) const;
  std::vector<SettledStages> settled_each(const Tail& tail,
                                          const std::vector<FoundStages>& found,
                                          Enough enough) const;
  void set_prices(Tail& tail, const std::vector<SettledStages>& settled) const;
  std::size_t chosen(const Tail& tail) const;

  TailSetup setup_;
};

}  // namespace thickset

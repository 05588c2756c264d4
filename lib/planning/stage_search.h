#pragma once

#include <optional>
#include <span>
#include <vector>

#include "planning/cool_down.h"
#include "planning/course.h"

namespace thickset {

/// What the kiln and the controller let a stage ask.
class StageBounds {
 public:
  /// never_late: the controller breaks off when the kiln is late.
  StageBounds(const Kiln& kiln, const Firing& firing, Temperature end, bool never_late);

  double end_K() const { return end_K_; }

  /// The same, and no stage slower than this.
  StageBounds with_slowest(double rate_K_per_s) const {
    StageBounds bounds = *this;
    bounds.slowest_K_per_s_ = rate_K_per_s;
    return bounds;
  }
  std::optional<double> slowest_K_per_s() const { return slowest_K_per_s_; }

  /// The kiln falls this fast by itself, with a margin, where the stage needs it: at its lower end,
  /// or in a last stage that may end late at its upper one.
  double fastest_K_per_s(double from_K, double to_K, bool last) const;

  /// Where a last stage of this rate is to end: at the end, or for a controller that breaks off
  /// where the kiln's own fall would begin to lag behind.
  double last_target_K(double from_K, double rate_K_per_s) const;

 private:
  NaturalCooling natural_;
  double end_K_;
  bool never_late_;
  std::optional<double> slowest_K_per_s_;
};

/// Which ends and rates of a course are not to be changed; as long as the course each. Rests may
/// always be: those of no time stay so.
struct Kept {
  std::vector<bool> to, rate;
  static Kept nothing(std::size_t stages) {
    return {std::vector<bool>(stages, false), std::vector<bool>(stages, false)};
  }
};

struct FoundStages {
  Course course;
  CoolDown::Outcome outcome;  ///< of all cases
};

/// The quickest course near a given one whose permanent stress and tension are within `aim` of
/// their limits, by simulations of the whole cool-down: ends and rates of all stages at once.
/// Local. Trials are made with the cases that govern; where another one does in the end, once more
/// with that one too.
///
/// Error: the time is within about 0.3 % of the local minimum; limits are kept to 0.5 %.
/// Source: notes/planning.md#search.
class StageSearch {
 public:
  /// cool_down must outlive it. aim: share of the limits to come out at.
  StageSearch(const CoolDown& cool_down, const StageBounds& bounds, double aim);

  FoundStages near(const Course& start, const Kept& kept) const;
  FoundStages near(const Course& start) const { return near(start, Kept::nothing(start.size())); }

 private:
  Course made(Course course) const;
  FoundStages search(const FoundStages& start,
                     const Kept& kept,
                     std::span<const CoolDown::Case> cases) const;

  const CoolDown* cool_down_;
  StageBounds bounds_;
  double aim_;
};

}  // namespace thickset

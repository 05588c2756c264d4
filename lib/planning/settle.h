#pragma once

#include <optional>
#include <vector>

#include "planning/keyed_course.h"

namespace thickset {

/// A cool-down that can be keyed and keeps the limits, and what keeps each stage from being faster.
struct SettledCourse {
  KeyedCourse keyed;
  std::vector<Limiting> limiting;  ///< of each stage, one unit faster
  std::vector<Limiting>
      limiting_rest{};  ///< of each stage's rest, one unit shorter; empty: no rests
};

/// A cool-down as searched, and in whole numbers.
struct SettledStages {
  Course planned;
  SettledCourse whole;
  double time_s() const { return whole.keyed.outcome.time_s; }
};

/// Brings a cool-down into the whole numbers of a controller with the least time lost, each trial
/// simulated.
///
/// Where a unit of rate is a large share of a rate, the rate is set to either neighbour and the
/// others are searched again; then all is rounded to the slow side, slowed while it is over a
/// limit, and made faster by one unit of rate or of an end after the other as long as all limits
/// are kept.
class Settler {
 public:
  /// cool_down and search must outlive it.
  Settler(const CoolDown& cool_down,
          const StageSearch& search,
          const StageBounds& bounds,
          const Keys& keys);

  /// nullopt: it cannot be keyed so that it keeps the limits.
  std::optional<SettledCourse> settle(const Course& course, const Kept& kept) const {
    return settle(course, kept, kept);
  }
  /// searching: what searches may not change, beside what the user has fixed.
  std::optional<SettledCourse> settle(const Course& course,
                                      const Kept& searching,
                                      const Kept& by_user) const;

 private:
  std::optional<SettledCourse> settle_coarse(const Course& course,
                                             const Kept& kept,
                                             const Kept& by_user,
                                             int searches) const;
  std::optional<SettledCourse> round(const Course& course, const Kept& kept) const;
  bool keeps(const KeyedCourse& keyed) const;
  std::optional<KeyedCourse> kept(const Course& course, std::size_t governing) const;
  std::optional<KeyedCourse> slowed(KeyedCourse keyed, const Kept& kept) const;
  std::optional<KeyedCourse> slower(const KeyedCourse& keyed, const Kept& kept) const;
  bool quicken(KeyedCourse& keyed, const Kept& kept, double share) const;
  bool within_kiln(const Course& course, std::size_t stage) const;
  Limiting limit_of(const KeyedCourse& tried, double time_s) const;
  Limiting limiting(const KeyedCourse& keyed, std::size_t stage, const Kept& kept) const;
  Course with_shorter_rest(const Course& course, std::size_t stage, int units) const;
  Limiting limiting_rest(const KeyedCourse& keyed, std::size_t stage) const;

  const CoolDown* cool_down_;
  const StageSearch* search_;
  StageBounds bounds_;
  Keys keys_;
};

}  // namespace thickset

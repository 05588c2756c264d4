#pragma once

#include <span>
#include <vector>

#include "planning/setting_bands.h"
#include "planning/stage_search.h"

namespace thickset {

/// Share of each limit that searches come out at: the rest is for what slopes by differences miss.
inline constexpr double planning_aim = 0.996;

/// What the user asks of the stages; where something is fixed, it is for every stage or none.
struct StageWishes {
  std::vector<std::optional<Temperature>> ends{};  ///< of all stages but the last
  std::vector<std::optional<Rate>> rates{};        ///< of all stages
  std::optional<std::size_t> stages() const;       ///< how many they ask for, if any
};

/// The quickest cool-downs from the end of a hold in a given number of stages, before any rounding.
///
/// Searches begin from the best cut of the measured bands (quickest_groups), up to three stages;
/// from three on with a quick stage above the best cut into one fewer; from four on what was found
/// with one fewer, its longest stage halved. The best of what they find counts.
/// Error: local minima; within 1 % of an exhaustive search where one was made (notes/planning.md).
class FastestStages {
 public:
  /// All must outlive it.
  FastestStages(std::span<const Casting> castings,
                const CoolDown& cool_down,
                const StageBounds& bounds,
                const Limits& limits);

  /// The quickest found in 1, 2, ... up to so many stages, as far as one more gains something: each
  /// is quicker than the one before it.
  std::vector<FoundStages> up_to(int most_stages) const;

  /// The quickest found in just so many stages.
  FoundStages exactly(int stages) const;

  /// The quickest with the user's own ends and rates.
  FoundStages with(const StageWishes& wishes) const;

  /// Of the many-banded cool-down, which no number of stages gets below by much.
  double least_time_s() const { return setting_.least_time_s; }
  const Course& banded() const { return setting_.course; }
  const StageSearch& search() const { return search_; }
  const SettingBands& setting() const { return setting_; }

 private:
  std::vector<Course> starts(int stages, const Course* one_fewer) const;
  FoundStages best_from(std::span<const Course> starts) const;
  Course cut(int stages) const;

  std::span<const Casting> castings_;
  const CoolDown* cool_down_;
  StageBounds bounds_;
  StageSearch search_;
  SettingBands setting_;
};

}  // namespace thickset

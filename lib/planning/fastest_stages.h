#pragma once

#include <vector>

#include "checking/limits.h"
#include "planning/cool_down.h"
#include "planning/partition.h"

namespace thickset {

/// What a cool-down may do besides keeping its limits.
struct StageBounds {
  Temperature end;          ///< the last target
  bool never_late = false;  ///< the controller breaks off when the kiln is late
};

/// The quickest cool-downs from the end of a hold in a given number of stages, before any rounding.
///
/// First how much of the permanent stress each band of temperature leaves per rate: each band of a
/// many-banded cool-down is made faster in turn. From that the best cut into stages
/// (quickest_groups), then ends and rates are corrected by simulations of the staged cool-down
/// itself until its permanent stress and tension are just within their limits.
/// Error: the least time of the model within about 1 %; searches are local.
/// Source: notes/planning.md.
class FastestStages {
 public:
  /// All must outlive it.
  FastestStages(const Casting& casting,
                const Kiln& kiln,
                const CoolDown& cool_down,
                const Firing& firing,
                const Limits& limits,
                const StageBounds& bounds);

  struct Found {
    std::vector<PlannedStage> stages;
    CoolDown::Outcome outcome;
  };
  /// The quickest found in 1, 2, ... up to so many stages; more are never slower.
  std::vector<Found> up_to(int most_stages) const;

  /// Time of the many-banded cool-down, which no number of stages gets below by much.
  double least_time_s() const { return least_time_s_; }

 private:
  struct Course {
    std::vector<double> to_K, rate_K_per_s;
    std::size_t size() const { return to_K.size(); }
  };
  std::vector<PlannedStage> stages_of(const Course& course) const;
  CoolDown::Outcome run(const Course& course) const { return cool_down_->run(stages_of(course)); }
  /// Under the treatment that governed the many-banded cool-down alone.
  CoolDown::Outcome quick_run(const Course& course) const {
    return cool_down_->run(stages_of(course), governing_);
  }
  double from_K(const Course& course, std::size_t stage) const {
    return stage == 0 ? cool_down_->hold().in_K() : course.to_K[stage - 1];
  }
  void lay_bands();
  void measure_bands();
  double fastest_of_kiln_K_per_s(double from_K, double to_K, bool last) const;
  double fastest_by_estimate_K_per_s(double T_K) const;
  CoolDown::Outcome correct_rates(Course& course) const;
  double balanced_time_s(Course& course) const;
  void search(Course& course) const;
  std::vector<Course> starts(int stages, const Course* one_fewer) const;
  std::vector<Band> bands() const;

  const Casting* casting_;
  const CoolDown* cool_down_;
  NaturalCooling natural_;
  StageBounds bounds_;
  double allowed_Pa_, tension_Pa_;
  StageEstimate estimate_;
  std::vector<double> band_to_K_;
  std::vector<double> left_per_rate_Pa_s_per_K_;
  std::size_t governing_ = 0;
  double tension_scale_ = 1.0;  ///< rate that pulls the limit over the estimate of it
  double least_time_s_ = 0.0;
};

}  // namespace thickset

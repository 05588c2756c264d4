#include "planning/course.h"

#include <algorithm>

namespace thickset {

std::size_t Course::slowest() const {
  const auto least = std::min_element(rate_K_per_s.begin(), rate_K_per_s.end());
  return static_cast<std::size_t>(least - rate_K_per_s.begin());
}

std::vector<PlannedStage> stages_of(const Course& course) {
  using Kind = PlannedStage::Kind;
  const std::size_t setting = course.slowest();
  std::vector<PlannedStage> stages;
  for (std::size_t i = 0; i < course.size(); ++i) {
    const Kind below = i + 1 == course.size() ? Kind::run_out : Kind::easing;
    const Kind kind = i < setting ? Kind::upper : i == setting ? Kind::setting : below;
    stages.push_back({kind,
                      Temperature::from_K(course.to_K[i]),
                      Rate::from_K_per_s(course.rate_K_per_s[i]),
                      seconds(course.resting_s(i))});
  }
  return stages;
}

std::vector<Step> steps_of(const Course& course) {
  std::vector<Step> steps;
  for (std::size_t i = 0; i < course.size(); ++i) {
    steps.push_back({.target = Temperature::from_K(course.to_K[i]),
                     .pace = Rate::from_K_per_s(course.rate_K_per_s[i]),
                     .hold = seconds(course.resting_s(i))});
  }
  return steps;
}

}  // namespace thickset

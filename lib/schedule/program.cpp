#include "schedule/program.h"

#include <cmath>

namespace thickset {

std::optional<Duration> ramp_time(const Pace& pace, Temperature from, Temperature to) {
  if (const auto* const time = std::get_if<Duration>(&pace)) return *time;
  if (const auto* const rate = std::get_if<Rate>(&pace)) {
    return seconds(std::abs((to - from).in_K()) / rate->in_K_per_s());
  }
  return std::nullopt;
}

std::vector<Leg> legs(const Program& program, std::optional<Temperature> start) {
  std::vector<Leg> result;
  std::optional<Temperature> at = program.start ? program.start : start;
  int number = 0;
  for (const Step& step : program.steps) {
    if (at != step.target) {
      result.push_back({number, at, step.target, step.pace, false});
    } else if (const auto* const time = std::get_if<Duration>(&step.pace)) {
      if (time->count() > 0.0) result.push_back({number, at, step.target, *time, true});
    }
    if (step.hold.count() > 0.0) {
      result.push_back({number, step.target, step.target, step.hold, true});
    }
    at = step.target;
    ++number;
  }
  return result;
}

}  // namespace thickset

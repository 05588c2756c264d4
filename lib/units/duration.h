#pragma once

#include <chrono>

namespace thickset {

/// Elapsed time in seconds, as a double.
using Duration = std::chrono::duration<double>;

constexpr Duration seconds(double t_s) {
  return Duration{t_s};
}
constexpr Duration minutes(double t_min) {
  return Duration{t_min * 60.0};
}
constexpr Duration hours(double t_h) {
  return Duration{t_h * 3600.0};
}
constexpr double in_s(Duration t) {
  return t.count();
}
constexpr double in_min(Duration t) {
  return t.count() / 60.0;
}
constexpr double in_h(Duration t) {
  return t.count() / 3600.0;
}

}  // namespace thickset

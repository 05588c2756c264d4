#include "planning/rests.h"

#include <algorithm>
#include <cassert>

namespace thickset {

std::optional<Course> with_rests(const Course& course, double slowest_K_per_s, int rests) {
  assert(rests >= 1);
  constexpr double shortest_s = 3600.0;  // of a rest that a search begins with
  const auto is_slow = [&](std::size_t i) { return course.rate_K_per_s[i] < slowest_K_per_s; };
  std::size_t first = 0;
  while (first < course.size() && !is_slow(first)) ++first;
  if (first == course.size()) return std::nullopt;
  std::size_t last = first;
  double asked_s = 0.0;
  for (std::size_t i = first; i < course.size(); ++i) {
    if (is_slow(i)) last = i;
  }
  for (std::size_t i = first; i <= last; ++i) asked_s += course.asked_s(i);

  Course resting{course.hold_K, {}, {}, {}};
  const auto add = [&](double to_K, double rate_K_per_s, double rest_s) {
    resting.to_K.push_back(to_K);
    resting.rate_K_per_s.push_back(rate_K_per_s);
    resting.rest_s.push_back(rest_s);
  };
  const double top_K = course.from_K(first);
  const double width_K = top_K - course.to_K[last];
  const double rest_s = std::max((asked_s - width_K / slowest_K_per_s) / rests, shortest_s);
  for (std::size_t i = 0; i < first; ++i) add(course.to_K[i], course.rate_K_per_s[i], 0.0);
  for (int part = 1; part <= rests; ++part) {
    add(top_K - width_K * part / (rests + 1), slowest_K_per_s, rest_s);
  }
  for (std::size_t i = last; i < course.size(); ++i) {
    add(course.to_K[i], i == last ? slowest_K_per_s : course.rate_K_per_s[i], 0.0);
  }
  return resting;
}

}  // namespace thickset

#include "numerics/simplex_search.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace thickset {
namespace {

struct Corner {
  std::vector<double> x;
  double value;
};

/// The point from the centre of all corners but the worst away from it: 1 mirrors the worst.
std::vector<double> away(const std::vector<Corner>& simplex, double factor) {
  const std::size_t n = simplex.size() - 1;
  std::vector<double> x(n);
  for (std::size_t i = 0; i < n; ++i) {
    double centre = 0.0;
    for (std::size_t j = 0; j < n; ++j) centre += simplex[j].x[i] / static_cast<double>(n);
    x[i] = centre + factor * (centre - simplex.back().x[i]);
  }
  return x;
}

}  // namespace

std::vector<double> simplex_minimum(const std::function<double(std::span<const double>)>& function,
                                    std::vector<double> start,
                                    std::span<const double> steps,
                                    const SimplexSearch& settings) {
  assert(!start.empty() && start.size() == steps.size());
  std::vector<Corner> simplex{{start, function(start)}};
  for (std::size_t i = 0; i < start.size(); ++i) {
    std::vector<double> x = start;
    x[i] += steps[i];
    simplex.push_back({x, function(x)});
  }
  int evaluations = static_cast<int>(simplex.size());
  const auto by_value = [](const Corner& a, const Corner& b) { return a.value < b.value; };
  const auto tried = [&](double factor) {
    ++evaluations;
    std::vector<double> x = away(simplex, factor);
    const double value = function(x);
    return Corner{std::move(x), value};
  };
  for (;;) {
    std::stable_sort(simplex.begin(), simplex.end(), by_value);
    const double best = simplex.front().value;
    if (!(simplex.back().value - best > settings.tolerance * std::abs(best))) break;
    if (evaluations >= settings.most_evaluations) break;
    Corner mirrored = tried(1.0);
    if (mirrored.value < best) {
      Corner farther = tried(2.0);
      simplex.back() = farther.value < mirrored.value ? std::move(farther) : std::move(mirrored);
    } else if (mirrored.value < simplex[simplex.size() - 2].value) {
      simplex.back() = std::move(mirrored);
    } else {
      Corner nearer = tried(mirrored.value < simplex.back().value ? 0.5 : -0.5);
      if (nearer.value < std::min(mirrored.value, simplex.back().value)) {
        simplex.back() = std::move(nearer);
        continue;
      }
      for (std::size_t j = 1; j < simplex.size(); ++j) {  // all towards the best
        for (std::size_t i = 0; i < start.size(); ++i) {
          simplex[j].x[i] = 0.5 * (simplex[j].x[i] + simplex.front().x[i]);
        }
        simplex[j].value = function(simplex[j].x);
        ++evaluations;
      }
    }
  }
  return simplex.front().x;
}

}  // namespace thickset

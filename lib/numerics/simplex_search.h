#pragma once

#include <functional>
#include <span>
#include <vector>

namespace thickset {

struct SimplexSearch {
  int most_evaluations = 200;
  double tolerance = 1e-3;  ///< ends when best and worst of the simplex differ by this share
};

/// Least of a function of a few variables near `start`, by the simplex of Nelder and Mead: needs no
/// derivatives and bears some noise. Local. steps: the first simplex' size along each variable.
/// Returns the best place found. Source: [NM65].
std::vector<double> simplex_minimum(const std::function<double(std::span<const double>)>& function,
                                    std::vector<double> start,
                                    std::span<const double> steps,
                                    const SimplexSearch& settings = {});

}  // namespace thickset

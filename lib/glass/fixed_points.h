#pragma once

#include "base/place.h"
#include "base/problems.h"
#include "glass/glass.h"

#include <optional>
#include <string>

namespace thickset {

/// A value that keeps its place until it is checked.
template <class T>
struct Placed {
  T value;
  Place place;
  std::string source;

  Property<T> property() const { return {value, false, source}; }
};

/// The points of a glass, each with its place.
struct FixedPoints {
  std::optional<Placed<Temperature>> annealing;
  std::optional<Placed<Temperature>> strain;
  std::optional<Placed<Temperature>> softening;
};

/// Adds what is wrong between the points that are given: out of order, or annealing and strain
/// point too near or too far apart for a glass. The message names both places.
void check_points(const FixedPoints& points, Problems& problems);

}  // namespace thickset

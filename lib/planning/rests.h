#pragma once

#include <optional>

#include "planning/course.h"

namespace thickset {

/// A cool-down whose stages that are slower than `slowest` run at that rate instead, cut into parts
/// of equal width with a rest between any two, together as long as before: where a search for rests
/// begins. Glass at rest sheds the stress that the quicker ramp above it has set.
///
/// Out: nullopt: no stage is slower.
std::optional<Course> with_rests(const Course& course, double slowest_K_per_s, int rests);

}  // namespace thickset

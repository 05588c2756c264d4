#pragma once

#include "sampling/sample_course.h"

#include <span>
#include <vector>

namespace thickset {

/// One input at either end of its range, all others as given.
struct AtItsEnds {
  UncertainValue what;
  Sample low, high;
};

std::vector<AtItsEnds> one_at_a_time(const CourseToSample& what,
                                     std::span<const UncertainInput> inputs);

}  // namespace thickset

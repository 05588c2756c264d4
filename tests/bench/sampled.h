#pragma once

#include <cstdint>
#include <vector>

#include "kiln/kiln.h"
#include "sampling/how_sure.h"
#include "sampling/sample_course.h"

namespace thickset::bench {

/// The slab, kiln and course of W2 as a casting that can be sampled: its eight inputs in their
/// usual ranges.
struct SampledW2 {
  SampledW2();

  Casting casting;
  Kiln kiln;
  KilnCourse course;
  std::vector<UncertainInput> inputs;

  CourseToSample to_sample() const {
    return {.casting = casting, .kiln = kiln, .course = course, .bulk = Bulk::constant_ratio};
  }
  std::vector<Sample> run(std::uint64_t samples, unsigned threads) const;
};

}  // namespace thickset::bench

#pragma once

#include "checking/check.h"
#include "checking/measure.h"
#include "sampling/uncertain_input.h"

#include <cstdint>
#include <functional>
#include <span>
#include <vector>

/// One course of a kiln done to many castings, each a little different from the one that is meant.
namespace thickset {

/// What is sampled: a course that is known as the kiln's sensor shows it.
struct CourseToSample {
  const Casting& casting;
  const Kiln& kiln;
  const KilnCourse& course;
  Bulk bulk;  ///< the treatment that all samples are computed with
  /// The course of a log that begins below the strain point: structure is taken as annealed.
  bool begins_cold = false;
};

/// One casting of many.
struct Sample {
  std::uint64_t number;  ///< of the point in the sequence
  double residual_nm_per_cm;
  double tension_MPa;
  bool relaxes;  ///< its hold is long and hot enough; true where the course has none
};

/// Numbers first up to, but without, end.
struct SampleRange {
  std::uint64_t first, end;
  std::uint64_t count() const { return end - first; }
};

/// Part `part` of `parts` (from 1) of a study of so many samples: all parts together are all of it,
/// and none has more than one sample more than another. Asserted: 1 <= part <= parts.
SampleRange slice_of(std::uint64_t samples, std::uint64_t part, std::uint64_t parts);

/// The same course by fewer corners, on which samples are quicker: within 0.2 K of it; of a
/// restless one, such as a log, within as much as leaves at most 400, but 5 K. The ends of steps
/// and jumps stay.
KilnCourse with_few_corners(KilnCourse course);

/// The course of a program that was measured, to be sampled: by few corners. start: of the glass.
KilnCourse course_of(const Measured& measured, Temperature start);

struct SamplingSettings {
  unsigned threads = 0;  ///< 0: as many as the machine has
  /// Called now and then, from the calling thread, with how many are done.
  std::function<void(std::uint64_t)> progress{};
};

/// The samples of a range, in order. Each hangs on its number, the course and the inputs alone: the
/// result is the same for any number of threads and any way to cut the range, to the last bit.
///
/// Time steps and nodes are coarser than those of a check, which changes a sample by up to 0.6 %:
/// notes/confidence.md#error.
/// Throws: Error when a sample cannot be simulated, the first of them.
std::vector<Sample> sample_course(const CourseToSample& what,
                                  std::span<const UncertainInput> inputs,
                                  const SampleRange& range,
                                  const SamplingSettings& settings = {});

/// One sample at chosen places of the inputs' ranges, -1 to 1 each.
Sample sample_at(const CourseToSample& what,
                 std::span<const UncertainInput> inputs,
                 std::span<const double> off);

/// Of a check's treatments of the bulk the one that leaves neither most nor least: that of an even
/// number the more cautious of the two in the middle.
Bulk middle_treatment(std::span<const CheckResult::OfTreatment> treatments);

}  // namespace thickset

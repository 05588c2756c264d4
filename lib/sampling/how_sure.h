#pragma once

#include "sampling/sample_course.h"
#include "sampling/sensitivity.h"
#include "sampling/spread.h"
#include "sampling/uncertain_input.h"

#include <cstdint>
#include <span>
#include <string>
#include <vector>

namespace thickset {

/// What a set of samples is of: all that they are judged by, and enough to tell one study from
/// another.
struct Study {
  std::string title;  ///< what is fired and how, in a line
  double grade_nm_per_cm = 0.0;
  double tension_limit_MPa = 0.0;
  Bulk bulk = Bulk::relaxing;  ///< of all samples
  std::vector<UncertainInput> inputs;
  std::uint64_t samples = 0;  ///< of the whole, however it was cut
  Sample as_given{};          ///< the casting as its files have it
};

/// The study of a course: its inputs, and the casting as it is given.
Study study_of(const CourseToSample& what,
               const Limits& limits,
               std::string title,
               std::uint64_t samples);

/// Which result a casting is more likely to fail by.
enum class Decisive { residual, tension };

/// What the samples of a study say.
struct HowSure {
  Study study;
  Chance residual, tension, both;  ///< within the limit, and both
  Chance relaxes;                  ///< the hold
  NineInTen residual_nm_per_cm, tension_MPa;
  Sensitivity of_residual, of_tension;
  Decisive decisive = Decisive::residual;  ///< kept by fewer; of equals nearer its limit

  const Sensitivity& of_decisive() const {
    return decisive == Decisive::residual ? of_residual : of_tension;
  }
  /// Indices of inputs, those that matter most to the decisive result first, by total share.
  std::vector<std::size_t> ranked() const;
};

/// At least two samples for each input and two more, as sensitivities() needs; asserted.
HowSure how_sure(const Study& study, std::span<const Sample> samples);

/// A study computed whole.
HowSure sampled(const CourseToSample& what,
                const Limits& limits,
                std::string title,
                std::uint64_t samples,
                const SamplingSettings& settings = {});

/// No study is smaller: what sensitivities() needs of nine inputs.
inline constexpr std::uint64_t fewest_samples = 32;
inline constexpr std::uint64_t most_samples = 100'000'000;

/// The value that this share of the samples does not exceed, over the limit. At most 1: so many
/// stay within it.
struct ShareOfLimits {
  double grade, tension;
};
ShareOfLimits at_confidence(const Study& study, std::span<const Sample> samples, double share);

}  // namespace thickset

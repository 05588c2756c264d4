#pragma once

#include "sampling/how_sure.h"

#include <span>
#include <string>
#include <string_view>
#include <vector>

/// A part of a study as a file, so that many machines can each compute one: notes/confidence.md.
namespace thickset {

/// What the study is in comment lines, then a row for each sample; every number with as many digits
/// as bring it back to the last bit.
std::string write_samples(const Study& study, std::span<const Sample> samples);

struct StudyPart {
  Study study;
  std::vector<Sample> samples;
  std::string source;  ///< the file's name, for messages
};

/// Throws: Error with what is not as write_samples gives it.
StudyPart read_samples(std::string_view text, const std::string& source);

/// All samples of one study from its parts, in order, however it was cut.
///
/// Throws: Error where parts are of different studies, a sample is in two of them, or one is
/// missing: then with which part to compute again.
StudyPart gathered(std::span<const StudyPart> parts);

}  // namespace thickset

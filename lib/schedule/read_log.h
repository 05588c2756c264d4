#pragma once

#include "base/progress.h"
#include "schedule/firing_log.h"

#include <string>
#include <string_view>

namespace thickset {

/// Whether a text's header is that of a log: a column that tells the time and no column of a
/// program.
bool looks_like_log(std::string_view text);

/// The log of a real firing from separated text whose header is the notation:
/// notes/data_formats.md#logs. What is wrong in it is left out or mended by a stated rule, with a
/// remark; where no rule helps it is refused.
///
/// In:     sensor, the column to use; empty: air, kiln, or the first that is a temperature.
/// Throws: Error with every bad row: no time or temperature in the header, a field that is neither
/// a
///         number nor says that there is none, times in more than one form, a row of too many
///         fields; or for the whole: fewer than two readings, half of them missing, more than two
///         million rows, times that run backwards, a length of over 1000 days.
FiringLog parse_log(std::string_view text,
                    const std::string& source_name,
                    const std::string& sensor = "",
                    const Progress& progress = {});

}  // namespace thickset

#pragma once

#include "kiln/kiln_from_log.h"
#include "reporting/display.h"

#include <string>

namespace thickset {

struct KilnReport {
  const FiringLog& log;
  std::string second_sensor;  ///< its column; empty: none
  Temperature room;
  const KilnFromLog& found;
  Display display;
};

/// The lines of a .kiln file: read back by every command that takes a kiln.
std::string kiln_file(const KilnReport& report);

/// For a person: what was taken, the rates, how well they fit, what they do not say.
std::string kiln_text(const KilnReport& report, const std::string& written_to);

std::string kiln_keys(const KilnReport& report);

}  // namespace thickset

#pragma once

#include "checking/polariscope.h"
#include "reporting/display.h"
#include "units/length.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// What a reading was made with; its report prints it.
struct ReadingContext {
  PolariscopeReading reading;
  Limits limits;
  std::optional<Use> next;           ///< what the piece is for; all uses where not given
  Length wall;                       ///< that the light passes, for the real temper number
  std::string how;                   ///< "analyser turned by 34 deg (+-2) at 565 nm"
  std::string glass;                 ///< "casting soda-lime glass, ..."
  std::vector<std::string> assumed;  ///< what was not given
  bool white_light_colour = false;   ///< read from a colour
  bool dark = false;                 ///< that colour was black
  Display display;
};

/// First line: whether there is an objection; then the numbers, what each use is held to, what a
/// reading cannot tell, the cautions. At most 80 columns.
std::string reading_text(const ReadingContext& context, const ReadingResult& result);
std::string reading_csv(const ReadingContext& context, const ReadingResult& result);
std::string reading_keys(const ReadingContext& context, const ReadingResult& result);

/// The worst of the uses asked for.
Objection worst(const ReadingContext& context, const ReadingResult& result);

}  // namespace thickset

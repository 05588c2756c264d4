#pragma once

#include <optional>
#include <string>

#include "reporting/page/firing_page.h"
#include "simulation/casting.h"
#include "typed.h"

namespace thickset::cli {

/// The pictures of a firing that the command line asks for: --page, --chart and what they need.
struct Pictures {
  std::optional<std::string> page, chart;  ///< files
  ChartKind chart_of = ChartKind::temperature;
  PageRequest request;
};

/// rates: whether the command plans a tail, whose rates can be drawn.
/// Throws: Error for an unknown chart, one that the command has not, a path that no glass has, or
/// an option that needs another.
Pictures read_pictures(const Typed& typed, bool rates);

/// Throws: Error where the casting has not the picture asked for; before anything is computed.
void refuse_pictures(const Pictures& pictures, const Casting& casting);

}  // namespace thickset::cli

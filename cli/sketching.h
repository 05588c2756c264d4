#pragma once

#include <optional>
#include <string>

#include "options.h"
#include "reporting/charts/cell_plot.h"

namespace thickset::cli {

/// How the firing is to be drawn below the report: where --sketch asks for it, or the report goes
/// to a terminal of 80 columns or more. nullopt: not at all.
std::optional<SketchStyle> wanted_sketch(const Options& options);

/// The text as it goes out: in ASCII where --ascii asks for it, or where it goes to a terminal
/// whose locale is not UTF-8.
std::string as_shown(const Options& options, const std::string& text);

}  // namespace thickset::cli

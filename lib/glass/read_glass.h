#pragma once

#include "glass/glass.h"

#include <string>
#include <string_view>

namespace thickset {

/// A glass from a .glass file; a file needs only expansion, annealing_point and strain_point, all
/// else is assumed and marked so. The format is in notes/data_formats.md.
///
/// Throws: Error with every problem of the file (unknown keys with the nearest known one, repeated
/// keys, missing ones, values out of range, points out of order or too near or far for a glass).
Glass read_glass(const std::string& path);

/// read_glass of a text; `path` gives the glass its name and the messages their place.
Glass parse_glass(std::string_view text, const std::string& path);

}  // namespace thickset

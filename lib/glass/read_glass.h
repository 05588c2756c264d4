#pragma once

#include "glass/glass.h"

#include <string>

namespace thickset {

/// A glass from a .glass file; a file needs only expansion, annealing_point and strain_point, all
/// else is assumed and marked so. The format is in notes/data_formats.md.
///
/// Throws: Error with every problem of the file (unknown keys with the nearest known one, repeated
/// keys, missing ones, values out of range, points out of order, a curve that misses its points).
Glass read_glass(const std::string& path);

}  // namespace thickset

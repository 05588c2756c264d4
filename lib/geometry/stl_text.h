#pragma once

#include "geometry/read_stl.h"

#include <string>
#include <string_view>

namespace thickset {

/// The triangles of STL text: "solid name", then for each "facet normal i j k", "outer loop", three
/// of "vertex x y z", "endloop", "endfacet", then "endsolid". Words in capitals or not, spaces and
/// line ends as they come; several solids in a file count as one.
///
/// Throws: Error with line and column.
TriangleSoup parse_stl_text(std::string_view text, const std::string& source);

}  // namespace thickset

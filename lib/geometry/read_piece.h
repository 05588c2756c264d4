#pragma once

#include "base/progress.h"
#include "geometry/grid_by_measures.h"
#include "geometry/read_shape.h"
#include "geometry/shape.h"

#include <optional>
#include <variant>
#include <vector>

namespace thickset {

/// A solid by its measures and its sides that do not cool, checked, before a grid is made of it.
struct SolidInWords {
  SolidByMeasures solid;
  std::vector<BoxSide> insulated;
};

/// A shape given in words, and what a grid made of it where no series knows it.
struct Piece {
  Shape shape;
  std::optional<GriddedSolid> solid;
};

/// All kinds of read_shape and the solids by their measures: vessel (outer diameter x height x wall
/// x bottom), dome and cone (diameter x height), wedge (length x width x thick end x thin end),
/// boss (disc's diameter x height x boss's diameter x height), dumbbell (two diameters x the neck's
/// x its length).
///
/// Throws: Error, as read_shape, check_measures and check_insulated do.
std::variant<Shape, SolidInWords> parse_piece(const ShapeWords& words);

/// The same, with the grid of a solid: up to half a minute where it is thin against its size.
/// Throws: Error, as gridded_solid does too.
Piece read_piece(const ShapeWords& words, const Progress& progress);

}  // namespace thickset

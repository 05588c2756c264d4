#pragma once

#include "base/progress.h"
#include "geometry/gridded_solid.h"
#include "geometry/read_shape.h"
#include "geometry/shape.h"

#include <optional>

namespace thickset {

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
/// Throws: Error, as read_shape, check_measures and gridded_solid do.
Piece read_piece(const ShapeWords& words, const Progress& progress);

}  // namespace thickset

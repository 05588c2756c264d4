#pragma once

#include "geometry/equivalent_slab.h"
#include "geometry/shape.h"
#include "glass/glass.h"
#include "units/length.h"

#include <optional>
#include <string>

namespace thickset {

/// A piece of glass to be annealed.
struct Casting {
  std::string title;
  Glass glass;
  Shape shape;
  std::optional<Length> reservoir;  ///< largest ball that fits in the reservoir above the piece

  /// The shape that governs: the piece, or a ball's worth of reservoir where that is thicker (taken
  /// as a slab of the reservoir's thickness, since a reservoir joins the piece on one side).
  const Shape governing_shape() const;
  bool reservoir_governs() const;
};

/// A casting from a .casting file: title, glass (a name or a path), shape, size, faces, reservoir.
///
/// glass_path turns a glass's name into a path. Throws: Error with every problem of the file.
Casting read_casting(const std::string& path, std::string (*glass_path)(const std::string& name));

}  // namespace thickset

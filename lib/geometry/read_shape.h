#pragma once

#include "base/place.h"
#include "geometry/shape.h"

#include <string_view>

namespace thickset {

/// A shape as a person writes it, each word with its place (an option or a line of a file).
struct ShapeWords {
  std::string_view kind;   ///< slab, rod, ball, block, disc, bar, prism
  std::string_view size;   ///< "75mm"; "75x75x150mm", "75 mm x 75 mm x 150 mm"
  std::string_view faces;  ///< both, one-free, one-held; empty is both
  Place kind_place, size_place, faces_place;
};

/// Sizes by kind: slab thickness; rod and ball diameter; block three sides; disc diameter x height;
/// bar two sides; prism side. A unit at the end counts for all numbers, else each has its own.
///
/// Throws: Error with all that is wrong: unknown kind or faces, faces other than both for anything
/// but a slab, "one" without free or held, wrong number of sizes, what read_length refuses, a size
/// that is not above zero, a largest ball outside thinnest_accepted..thickest_accepted, a side over
/// largest_side.
Shape read_shape(const ShapeWords& words);

/// Sizes beyond these are taken for a slip of unit or digit. (thinnest_made_for and
/// thickest_made_for are the narrower range in which the models were meant to be used.)
inline constexpr Length thinnest_accepted = Length::from_mm(3.0);
inline constexpr Length thickest_accepted = Length::from_mm(1000.0);
inline constexpr Length largest_side = Length::from_mm(3000.0);

}  // namespace thickset

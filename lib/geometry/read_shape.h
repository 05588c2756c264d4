#pragma once

#include "base/place.h"
#include "geometry/read_sizes.h"
#include "geometry/shape.h"

#include <string_view>

namespace thickset {

/// A shape as a person writes it, each word with its place (an option or a line of a file).
struct ShapeWords {
  std::string_view kind;   ///< slab, rod, ball, block, disc, bar, prism, tube
  std::string_view size;   ///< "75mm"; "75x75x150mm", "75 mm x 75 mm x 150 mm"
  std::string_view faces;  ///< both, one-free, one-held; empty is both
  Place kind_place, size_place, faces_place;
  std::string_view inside{};     ///< open, core; of a tube or a vessel
  std::string_view insulated{};  ///< sides, with commas; of solids by their measures
  Place inside_place{}, insulated_place{};
};

/// Sizes by kind: slab thickness; rod and ball diameter; block three sides; disc diameter x height;
/// bar two sides; prism side; tube outer diameter x wall. A unit at the end counts for all numbers,
/// else each has its own.
///
/// Throws: Error with all that is wrong: unknown kind or faces, faces other than both for anything
/// but a slab, "one" without free or held, an inside for anything but a tube or none for one,
/// insulated sides, a tube without a hollow, wrong number of sizes, what read_length refuses, a
/// size that is not above zero, a largest ball outside thinnest_accepted..thickest_accepted, a side
/// over largest_side.
Shape read_shape(const ShapeWords& words);

/// The inside of a hollow piece. Throws: Error for another word, and where there is none: whether a
/// core lies there decides how it cools.
Inside read_inside(std::string_view kind, const ShapeWords& words);

/// Throws: Error where one is given: `kind` is solid.
void refuse_inside(std::string_view kind, const ShapeWords& words);

}  // namespace thickset

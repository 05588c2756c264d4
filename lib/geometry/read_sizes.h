#pragma once

#include "base/place.h"
#include "units/length.h"

#include <cstddef>
#include <string_view>
#include <vector>

namespace thickset {

/// The sizes that a kind of shape has.
struct SizesOfKind {
  std::string_view word;  ///< slab, block, ...
  std::size_t n_sizes;
  std::string_view needs;    ///< "diameter x height"
  std::string_view example;  ///< "200x40mm"
};

/// "75x75x150mm", "75 mm x 75 mm x 150 mm": a unit at the end counts for all numbers, else each has
/// its own.
///
/// Throws: Error with all that is wrong: a wrong number of sizes, what read_length refuses, a size
/// that is not above zero.
std::vector<Length> read_sizes(const SizesOfKind& kind, std::string_view size, const Place& place);

/// Sizes beyond these are taken for a slip of unit or digit. (thinnest_made_for and
/// thickest_made_for are the narrower range in which the models were meant to be used.)
inline constexpr Length thinnest_accepted = Length::from_mm(3.0);
inline constexpr Length thickest_accepted = Length::from_mm(1000.0);
inline constexpr Length largest_side = Length::from_mm(3000.0);

/// Throws: Error where a size is over largest_side.
void check_sides(const std::vector<Length>& sizes, const Place& place);

/// Throws: Error where the largest ball is outside thinnest_accepted..thickest_accepted or a size
/// over largest_side.
void check_range(Length ball, const std::vector<Length>& sizes, const Place& place);

}  // namespace thickset

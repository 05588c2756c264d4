#pragma once

#include "base/place.h"
#include "geometry/shape.h"
#include "material/wall.h"

#include <optional>
#include <string>

namespace thickset {

/// What lies against a casting: all round, or on a slab's two faces.
struct Walls {
  Wall top;          ///< of other shapes than slabs: all round
  Wall bottom;       ///< the same as top but on a slab whose faces differ
  bool held = true;  ///< held flat by the mould; false: free to bend

  bool alike() const;
  bool any_assumed() const { return top.any_assumed() || bottom.any_assumed(); }
  Walls with_assumed_conductivity_times(double factor) const;
};

/// "plaster-silica 25 mm all round"; "top open, bottom plaster-silica 25 mm; held flat".
std::string describe(const Walls& walls, const Shape& shape, Lengths unit);

/// A word of the user's and where it stands.
struct PlacedText {
  std::string text;
  Place place;
};
/// What a casting file or the command line says of its walls.
struct WallWords {
  std::optional<PlacedText> mould{};          ///< all round, of a slab both faces
  std::optional<PlacedText> top{}, bottom{};  ///< each stands in for `mould` on its face or side
  std::optional<PlacedText> left{}, right{}, front{}, back{};  ///< of a mesh alone
  std::optional<PlacedText> grips{};                           ///< yes, no
};

/// Throws: Error for another word than yes and no.
bool read_grips(const PlacedText& word);

/// Out: nullopt where nothing lies against the glass.
/// Throws: Error for the first thing that is wrong: layers that read_wall refuses, top or bottom of
/// a shape that has one wall all round, a hollow that is open, one face without a word on the
/// other, faces that are said twice, a casting that no heat leaves, unlike faces of a slab that
/// nothing touches without a word on whether it may bend.
std::optional<Walls> read_walls(const WallWords& words,
                                const Shape& shape,
                                const ReadNamedMould& read_named_mould);

}  // namespace thickset

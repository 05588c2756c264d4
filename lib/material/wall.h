#pragma once

#include "base/place.h"
#include "material/mould.h"
#include "units/length.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace thickset {

/// One layer of what lies against the glass: a material, a gap of air, or a poor contact.
struct Layer {
  enum class Kind { solid, air, contact };
  Kind kind;
  Length thickness = Length::from_m(0.0);  ///< of solid and air
  double resistance_m2_K_per_W = 0.0;      ///< of a contact
  std::optional<Mould> material{};         ///< of a solid

  static Layer solid(Mould material, Length thickness) {
    return {.kind = Kind::solid, .thickness = thickness, .material = std::move(material)};
  }
  static Layer air(Length thickness) { return {.kind = Kind::air, .thickness = thickness}; }
  static Layer contact(double resistance_m2_K_per_W) {
    return {.kind = Kind::contact, .resistance_m2_K_per_W = resistance_m2_K_per_W};
  }
};

/// What lies between a face of the glass and the kiln: layers from the glass outwards.
struct Wall {
  std::vector<Layer> layers;
  bool insulated = false;  ///< no heat passes beyond the last layer; else it faces the kiln

  bool open() const { return layers.empty() && !insulated; }
  /// Not air next to the glass: something that can hold it.
  bool touches() const { return !layers.empty() && layers.front().kind != Layer::Kind::air; }
  Length thickness() const;
  bool any_assumed() const;
  /// The same wall whose assumed materials conduct so many times as well.
  Wall with_assumed_conductivity_times(double factor) const;
};

/// Whether heat finds the same layers in both: materials are compared by their values, at a few
/// temperatures.
bool alike(const Wall& one, const Wall& other);

/// Layers, each in words: "plaster-silica 25mm, cordierite-shelf 15mm"; "open" where there are
/// none; "plaster-silica 25mm, insulated".
std::string describe(const Wall& wall, Lengths unit);

inline constexpr Length thinnest_layer = Length::from_mm(0.5);
inline constexpr Length thickest_layer = Length::from_mm(500.0);
inline constexpr Length narrowest_gap = Length::from_mm(0.1);
/// In wider gaps air circulates, which is not computed: notes/conduction.md#air-gaps.
inline constexpr Length widest_gap = Length::from_mm(50.0);
inline constexpr std::size_t most_layers = 8;

/// Finds and reads the material of a name or path.
using ReadNamedMould = std::function<Mould(const std::string& name, const Place& place)>;

/// A wall as a person writes it, from the glass outwards: layers with commas between, each a
/// material and its thickness, `air` and its width, or `contact` and its resistance; `open` alone
/// for none; `insulated` last where no heat passes beyond.
///
/// Throws: Error at `place` for the first thing that is wrong: no thickness, one outside
/// thinnest_layer..thickest_layer, air that is outermost or beside another gap, and what
/// read_named_mould throws.
Wall read_wall(std::string_view text, const Place& place, const ReadNamedMould& read_named_mould);

}  // namespace thickset

#pragma once

#include <span>

namespace thickset {

/// What of a firing is known only within a range.
enum class UncertainValue {
  thickness,           ///< every measure of the piece, in proportion
  sensor,              ///< what the kiln really has, against what it shows
  fixed_points,        ///< annealing and strain point (and softening point) together
  strain_point,        ///< the strain point against the annealing point
  conductivity,        ///< of the glass
  heat_capacity,       ///< of the glass
  expansion,           ///< of the glass, solid and liquid
  exchange,            ///< between glass or mould and kiln: film coefficient and emissivity
  mould_conductivity,  ///< of all layers that are materials, each by its own range
};

/// "strain point against annealing point", for sentences.
const char* name_of(UncertainValue value);
/// "strain_point", for keys and files.
const char* key_of(UncertainValue value);
/// What could be done to know it better: "measure the thickest place with calipers".
const char* measurement_of(UncertainValue value);
/// The key of a file that states the range: "thickness_uncertainty in the casting's file".
const char* stated_in(UncertainValue value);
/// All of them, in the order of their dimensions in the sequence.
std::span<const UncertainValue> all_uncertain_values();

}  // namespace thickset

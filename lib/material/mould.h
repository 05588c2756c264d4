#pragma once

#include "material/thermal_law.h"

#include <optional>
#include <string>
#include <string_view>

namespace thickset {

/// What moulds, shelves, blankets and bricks are made of, as far as heat is concerned.
struct Mould {
  /// What the conductivity rests on; reports say it, and show what half and double of an assumed
  /// one would change.
  enum class Status { published, from_memory, assumed };

  std::string name;   ///< the file's name without folder and extension
  std::string title;  ///< a line for people
  Status status;
  double density_kg_per_m3;
  ThermalLaw conductivity_W_per_m_K;
  ThermalLaw heat_capacity_J_per_kg_K;
  std::string density_source, conductivity_source, heat_capacity_source;
  /// How well the conductivity is known, as a share either way, where the file says so.
  std::optional<double> conductivity_uncertainty{};

  bool assumed() const { return status == Status::assumed; }
  /// The same material conducting so many times as well.
  Mould with_conductivity_times(double factor) const;
};

/// "published", "from memory" or "assumed".
const char* name_of(Mould::Status status);

/// A material from a .mould file (notes/data_formats.md): title, status, density, conductivity,
/// heat_capacity,
/// conductivity_uncertainty.
///
/// Throws: Error with every problem of the file.
Mould read_mould(const std::string& path);

/// The same from a text; path: where it was read, for messages.
Mould parse_mould(std::string_view text, const std::string& path);

}  // namespace thickset

#pragma once

#include "kiln/natural_cooling.h"
#include "units/rate.h"
#include "units/temperature.h"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace thickset {

/// What a kiln can do and how it exchanges heat with what stands in it.
struct Kiln {
  std::string name;
  std::string title;
  NaturalCooling natural_cooling;
  Rate fastest_heating = Rate::from_K_per_h(300.0);
  double film_coefficient_W_per_m2_K = 8.0;  ///< convection at the glass
  double emissivity = 0.9;                   ///< of the exchange between glass and kiln
  /// Its two sensors by each other: one of them is off by half of it or more, which no log tells.
  TemperatureDifference sensors_differ = TemperatureDifference::from_K(0.0);
  /// How far the sensor may be off, where it was compared with a better one.
  std::optional<TemperatureDifference> sensor_uncertainty{};
  /// How well the exchange is known, as a share either way, where the file says so.
  std::optional<double> exchange_uncertainty{};
  std::vector<std::string> assumed;  ///< a line for each value the file does not give
};

/// A kiln from a .kiln file (notes/data_formats.md); only natural_cooling is needed.
///
/// Throws: Error with every problem of the file.
Kiln read_kiln(const std::string& path);

/// The same from a text; path: where it was read, for messages.
Kiln parse_kiln(std::string_view contents, const std::string& path);

/// Tolerance of a standard-grade type K thermocouple: the greater of 2.2 C and 0.75 % of the
/// reading in C. Source: [ASTM-E230] table of initial tolerances.
TemperatureDifference sensor_tolerance(Temperature reading);

/// How far this kiln's reading may be off: the same, or what its file says; or as much as its two
/// sensors differ.
TemperatureDifference sensor_tolerance(const Kiln& kiln, Temperature reading);

/// Where that comes from, for a sentence: "type K, ASTM E230", "the kiln's file".
const char* sensor_tolerance_from(const Kiln& kiln, Temperature reading);

}  // namespace thickset

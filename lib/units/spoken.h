#pragma once

#include "units/temperature.h"

#include <cmath>
#include <string>

#include <fmt/format.h>

/// Temperatures in the sentences of findings and notes, in the degrees a person asked for, or in
/// both where the sentence is made before anybody was asked.
namespace thickset {

/// "513 °C" or "955 °F".
inline std::string spoken(Temperature t, Degrees degrees) {
  return fmt::format("{:.0f} °{}", in_degrees(t, degrees), letter(degrees));
}

/// "3.8 °C" or "6.8 °F"; whole from ten degrees on.
inline std::string spoken(TemperatureDifference d, Degrees degrees) {
  const double value = in_degrees(d, degrees);
  const int decimals = std::abs(value) < 9.95 ? 1 : 0;
  return fmt::format("{:.{}f} °{}", value, decimals, letter(degrees));
}

/// "513 °C (955 °F)".
inline std::string in_both(Temperature t) {
  return fmt::format("{} ({})", spoken(t, Degrees::celsius), spoken(t, Degrees::fahrenheit));
}

/// "3.8 °C (6.8 °F)".
inline std::string in_both(TemperatureDifference d) {
  return fmt::format("{} ({})", spoken(d, Degrees::celsius), spoken(d, Degrees::fahrenheit));
}

/// "149 °C (300 °F) is outside -20 to 50 °C (-4 to 122 °F)": whole degrees of a refusal.
inline std::string outside(Temperature t, Temperature low, Temperature high) {
  return fmt::format("{} is outside {:.0f} to {} ({:.0f} to {})",
                     in_both(t),
                     low.in_C(),
                     spoken(high, Degrees::celsius),
                     low.in_F(),
                     spoken(high, Degrees::fahrenheit));
}

/// The next whole degree at or above a temperature.
inline Temperature whole_degree_above(Temperature t, Degrees degrees) {
  constexpr double round_off = 1e-6;  // 35 C, held as 308.15 K, is a whole degree
  return from_degrees(std::ceil(in_degrees(t, degrees) - round_off), degrees);
}

}  // namespace thickset

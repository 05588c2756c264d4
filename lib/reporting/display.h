#pragma once

#include "units/duration.h"
#include "units/length.h"
#include "units/rate.h"
#include "units/temperature.h"

#include <chrono>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

/// How numbers are shown to people: always with their unit, never with more digits than a sensor
/// has.
namespace thickset {

struct Display {
  Degrees degrees = Degrees::celsius;
  Lengths lengths = Lengths::millimetre;
};

std::string show(Temperature temperature, const Display& display);  ///< "513 °C"
std::string show_difference(TemperatureDifference difference,
                            const Display& display);              ///< "1.7 °C"
TemperatureDifference size_of(TemperatureDifference difference);  ///< without its sign
std::string show(Rate rate, const Display& display);              ///< "9.1 °C/h"
std::string show(Length length, const Display& display);          ///< "75 mm"
std::string show(Duration duration);                              ///< "16 h 46 min"
std::string show_days(Duration duration);  ///< "74 h 40 min (3.1 days)" from two days on

/// A sentence of the library that gives temperatures in both scales, as units/spoken.h does, in
/// one:
/// "+-10 °C (18 °F)" is "+-10 °C" or "+-18 °F", "400 to 550 °C (752 to 1022 °F)" likewise.
std::string in_one_scale(std::string_view sentence, const Display& display);
std::vector<std::string> in_one_scale(std::vector<std::string> sentences, const Display& display);

inline constexpr double days_from_h = 48.0;
inline double in_MPa(double stress_Pa) {
  return stress_Pa * 1e-6;
}

/// Minutes on a wall clock, for a start typed by a person.
using Clock = std::chrono::local_time<std::chrono::minutes>;
std::string show(Clock clock);  ///< "Fri 2026-11-27 18:00"

/// A text broken at spaces into lines of at most `width` columns, the later ones indented by
/// `indent`, the first as it is.
std::string wrapped(std::string_view text, std::size_t width = 78, std::size_t indent = 2);

/// "- " lines, each wrapped.
std::string listed(const std::vector<std::string>& lines);

}  // namespace thickset

#pragma once

#include "base/place.h"
#include "units/duration.h"
#include "units/length.h"
#include "units/rate.h"
#include "units/stress.h"
#include "units/temperature.h"

#include <string_view>

/// Text with a unit to a value: "75mm", "3 in", "930F", "9.0e-6 /K". Spaces between number and unit
/// are free; the decimal sign is a point whatever the locale; NaN, infinity and hexadecimal are no
/// numbers. Every function throws Error at `place`: a bare number is refused with what to write
/// instead, an unknown unit with the units that are known. Ranges are checked by the caller.
namespace thickset {

/// "516C", "516 °C", "960 F", "789 K".
Temperature read_temperature(std::string_view text, const Place& place);

/// A difference: "5K", "5C" and "9F" are the same; "5 C" never becomes 278 K.
TemperatureDifference read_temperature_difference(std::string_view text, const Place& place);

/// "75mm", "7.5 cm", "0.075 m", "3in", "3 inch", "3\"", "0.25 ft".
Length read_length(std::string_view text, const Place& place);

/// "90min", "1.5h", "2 d", "30 s", "1h30min", "36:30" (hours:minutes).
Duration read_duration(std::string_view text, const Place& place);

/// "5C/h", "9 F/h", "5 K/h", "0.1 C/min".
Rate read_rate(std::string_view text, const Place& place);

/// "3MPa", "435 psi", "3 N/mm2", "70 GPa", "3e6 Pa".
Stress read_stress(std::string_view text, const Place& place);
/// The same where only some stresses make sense: a bare number is offered the units in which it
/// does.
Stress read_stress_within(std::string_view text, const Place& place, Stress least, Stress most);

/// "10nm/cm".
Retardation read_retardation(std::string_view text, const Place& place);

/// A retardation or a wavelength, in metres: "565nm", "0.565 um".
double read_light_length_m(std::string_view text, const Place& place);

/// An angle in radians: "34deg", "34 °", "0.6 rad".
double read_angle_rad(std::string_view text, const Place& place);

/// Linear expansion in 1/K: "9.0e-6/K", "9.0e-6 1/K", "9.0 1e-6/K", "9 ppm/K", "5.0e-6/F"
/// and, since the trade writes it so, a bare number with an exponent: "90e-7". "90" is refused.
double read_expansion_per_K(std::string_view text, const Place& place);

/// "2500 kg/m3", "2.5 g/cm3".
double read_density_kg_per_m3(std::string_view text, const Place& place);

/// "1.05 W/(m K)", "1.05 W/m/K".
double read_conductivity_W_per_m_K(std::string_view text, const Place& place);

/// "840 J/(kg K)", "840 J/kg/K", "0.84 kJ/(kg K)".
double read_heat_capacity_J_per_kg_K(std::string_view text, const Place& place);

/// Absorption of light or heat along a path, in 1/m: "200 /m", "200 1/m", "2 1/cm".
double read_absorption_per_m(std::string_view text, const Place& place);

/// "8 W/(m2 K)", "8 W/m2/K".
double read_film_coefficient_W_per_m2_K(std::string_view text, const Place& place);

/// Of a contact, over an area: "0.01 m2 K/W", "0.01 m2K/W".
double read_resistance_m2_K_per_W(std::string_view text, const Place& place);

/// Stress-optical coefficient in 1/Pa: "2.7 1/TPa", "2.7 /TPa", "2.7 brewster", "2.7e-6 mm2/N".
double read_stress_optical_per_Pa(std::string_view text, const Place& place);

/// Wavelength-free number: "0.22", "0.9".
double read_number(std::string_view text, const Place& place);

/// How well something is known, either way: "10 %" is 0.1.
inline constexpr double least_uncertain_share = 0.001;
inline constexpr double most_uncertain_share = 0.6;
double read_uncertain_share(std::string_view text, const Place& place);

/// "7"; "7.5" and "-1" are refused.
int read_whole_number(std::string_view text, const Place& place);

}  // namespace thickset

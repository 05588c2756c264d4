#include "units/read_quantity.h"

#include <algorithm>
#include <charconv>
#include <numbers>
#include <string>
#include <system_error>
#include <utility>
#include <vector>

#include <fmt/format.h>

#include "base/error.h"
#include "base/text.h"
#include "units/number_and_unit.h"

namespace thickset {

namespace {

/// One spelling of a unit, and what a number of it is.
template <class T>
struct Unit {
  std::string_view spelling;
  T (*of)(double);
};

template <class T, std::size_t n>
const Unit<T>* find_unit(std::string_view spelling, const Unit<T> (&units)[n]) {
  for (const Unit<T>& unit : units) {
    if (unit.spelling == spelling) return &unit;
  }
  return nullptr;
}

double value_SI(double value) {
  return value;
}
double value_SI(Length length) {
  return length.in_m();
}
double value_SI(Stress stress) {
  return stress.in_Pa();
}
double value_SI(Retardation retardation) {
  return retardation.in_nm_per_cm();
}

template <class T, std::size_t n>
T read_with_unit(std::string_view text,
                 const Place& place,
                 const QuantityKind& kind,
                 const Unit<T> (&units)[n]) {
  const NumberAndUnit parts = split_number_and_unit(text, place, kind);
  if (parts.unit.empty()) throw no_unit(parts.number, place, kind);
  const Unit<T>* const unit = find_unit(parts.unit, units);
  if (unit == nullptr) throw unknown_unit(parts.unit, parts.text, place, kind);
  const T result = unit->of(parts.value);
  check_finite(value_SI(result), parts.text, place);
  return result;
}

enum class DegreeUnit { kelvin, celsius, fahrenheit, none };

DegreeUnit degree_unit(std::string_view unit) {
  for (const std::string_view spelling : {"C",
                                          "c",
                                          "\u00B0C",
                                          "\u00B0c",
                                          "degC",
                                          "deg C",
                                          "degrees C",
                                          "degree C",
                                          "Celsius",
                                          "celsius"}) {
    if (unit == spelling) return DegreeUnit::celsius;
  }
  for (const std::string_view spelling : {"F",
                                          "f",
                                          "\u00B0F",
                                          "\u00B0f",
                                          "degF",
                                          "deg F",
                                          "degrees F",
                                          "degree F",
                                          "Fahrenheit",
                                          "fahrenheit"}) {
    if (unit == spelling) return DegreeUnit::fahrenheit;
  }
  for (const std::string_view spelling : {"K", "kelvin", "Kelvin"}) {
    if (unit == spelling) return DegreeUnit::kelvin;
  }
  return DegreeUnit::none;
}

constexpr double second_s = 1.0;
constexpr double minute_s = 60.0;
constexpr double hour_s = 3600.0;
constexpr double day_s = 86400.0;

constexpr struct {
  std::string_view spelling;
  double length_s;
} time_units[] = {
    {"s", second_s},
    {"sec", second_s},
    {"secs", second_s},
    {"second", second_s},
    {"seconds", second_s},
    {"min", minute_s},
    {"mins", minute_s},
    {"minute", minute_s},
    {"minutes", minute_s},
    {"h", hour_s},
    {"hr", hour_s},
    {"hrs", hour_s},
    {"hour", hour_s},
    {"hours", hour_s},
    {"H", hour_s},
    {"d", day_s},
    {"day", day_s},
    {"days", day_s},
};

/// The length of a unit of time, 0 where there is no such unit.
double time_unit_s(std::string_view unit) {
  for (const auto& known : time_units) {
    if (known.spelling == unit) return known.length_s;
  }
  return 0.0;
}

const QuantityKind duration_kind{"a time such as 90min, 1.5h or 36:30",
                                 {"min", "h"},
                                 "s, min, h, d"};

/// "36:30", hours and minutes.
Duration read_clock(std::string_view text, const Place& place) {
  const std::size_t colon = text.find(':');
  const std::string_view before = text.substr(0, colon);
  const std::string_view after = text.substr(colon + 1);
  constexpr std::size_t longest_hours = 6;
  int h = 0;
  int min = 0;
  const auto whole = [](std::string_view digits, int& value) {
    if (digits.find_first_not_of("0123456789") != digits.npos) return false;
    return std::from_chars(digits.data(), digits.data() + digits.size(), value).ec == std::errc{};
  };
  if (before.size() > longest_hours || after.size() != 2 || !whole(before, h) ||
      !whole(after, min)) {
    throw Error{place,
                fmt::format("{} is not hours:minutes", in_quotes(text)),
                "write a time such as 36:30 or 36h30min"};
  }
  if (min >= 60) {
    throw Error{place,
                fmt::format("{} has {} minutes in its hour", in_quotes(text), min),
                fmt::format("write {}:{:02}", h + min / 60, min % 60)};
  }
  return minutes(60.0 * h + min);
}

const QuantityKind expansion_kind{"an expansion such as 9.0e-6/K or 90e-7/K",
                                  {"e-7/K"},
                                  "/K, 1/K, 1e-6/K, 1e-7/K, ppm/K, /C, /F"};

/// What to write for an expansion that has neither unit nor exponent.
Error no_expansion_unit(const NumberAndUnit& parts, const Place& place) {
  // The trade says "90" and means 90e-7; standards say "9.0" and mean 9.0e-6.
  std::string mend = fmt::format("write {}", expansion_kind.example);
  if (parts.value >= 20.0 && parts.value < 1000.0) {
    std::string tenth = fmt::format("{:.6g}", parts.value / 10.0);
    if (tenth.find('.') == tenth.npos) tenth += ".0";
    mend = fmt::format("write {}e-7/K or {}e-6/K", parts.number, tenth);
  } else if (parts.value >= 1.0 && parts.value < 20.0) {
    mend = fmt::format("write {}e-6/K", parts.number);
  }
  return Error{place, fmt::format("{} has no unit", parts.number), mend};
}

/// The factor to 1/K of "x10-6/K", "1e-7 1/K", "ppm/F" and the like; 0 where it is none of them.
double expansion_unit_per_K(std::string unit) {
  std::erase(unit, ' ');
  std::string_view rest = unit;
  double factor = 1.0;
  constexpr std::pair<std::string_view, double> powers[] = {
      {"x10-6", 1e-6},
      {"x10-7", 1e-7},
      {"10-6", 1e-6},
      {"10-7", 1e-7},
      {"x1e-6", 1e-6},
      {"x1e-7", 1e-7},
      {"1e-6", 1e-6},
      {"1e-7", 1e-7},
      {"ppm", 1e-6},
  };
  for (const auto& [spelling, power] : powers) {
    if (!rest.starts_with(spelling)) continue;
    factor = power;
    rest.remove_prefix(spelling.size());
    break;
  }
  if (rest.starts_with("1/")) rest.remove_prefix(1);
  if (rest.starts_with("/")) {
    rest.remove_prefix(1);
  } else if (rest.ends_with("-1")) {
    rest.remove_suffix(2);
  } else {
    return 0.0;
  }
  switch (degree_unit(rest)) {
    case DegreeUnit::kelvin:
    case DegreeUnit::celsius: return factor;
    case DegreeUnit::fahrenheit: return factor * 1.8;
    case DegreeUnit::none: break;
  }
  return 0.0;
}

}  // namespace

Temperature read_temperature(std::string_view text, const Place& place) {
  const QuantityKind kind{"a temperature such as 516C or 960F", {"C", "F"}, "C, F, K"};
  const NumberAndUnit parts = split_number_and_unit(text, place, kind);
  if (parts.unit.empty()) throw no_unit(parts.number, place, kind);
  switch (degree_unit(parts.unit)) {
    case DegreeUnit::kelvin: return Temperature::from_K(parts.value);
    case DegreeUnit::celsius: return Temperature::from_C(parts.value);
    case DegreeUnit::fahrenheit: return Temperature::from_F(parts.value);
    case DegreeUnit::none: break;
  }
  throw unknown_unit(parts.unit, parts.text, place, kind);
}

TemperatureDifference read_temperature_difference(std::string_view text, const Place& place) {
  const QuantityKind kind{"a temperature difference such as 5C or 9F", {"K", "C", "F"}, "K, C, F"};
  const NumberAndUnit parts = split_number_and_unit(text, place, kind);
  if (parts.unit.empty()) throw no_unit(parts.number, place, kind);
  switch (degree_unit(parts.unit)) {
    case DegreeUnit::kelvin:
    case DegreeUnit::celsius: return TemperatureDifference::from_K(parts.value);
    case DegreeUnit::fahrenheit: return TemperatureDifference::from_F(parts.value);
    case DegreeUnit::none: break;
  }
  throw unknown_unit(parts.unit, parts.text, place, kind);
}

Length read_length(std::string_view text, const Place& place) {
  constexpr auto from_cm = [](double v) { return Length::from_m(v * 1e-2); };
  constexpr auto from_ft = [](double v) { return Length::from_inch(v * 12.0); };
  constexpr Unit<Length> units[] = {
      {"mm", Length::from_mm},
      {"MM", Length::from_mm},
      {"cm", from_cm},
      {"m", Length::from_m},
      {"in", Length::from_inch},
      {"IN", Length::from_inch},
      {"inch", Length::from_inch},
      {"inches", Length::from_inch},
      {"\"", Length::from_inch},
      {"ft", from_ft},
      {"foot", from_ft},
      {"feet", from_ft},
      {"'", from_ft},
  };
  return read_with_unit(text,
                        place,
                        {"a length such as 100mm or 4in", {"mm", "cm", "in"}, "mm, cm, m, in, ft"},
                        units);
}

Duration read_duration(std::string_view text, const Place& place) {
  const NumberAndUnit first = split_number_and_unit(text, place, duration_kind);
  const std::string plain = plain_spelling(text);
  if (plain.find(':') != plain.npos) return read_clock(plain, place);

  double total_s = 0.0;
  double last_unit_s = 0.0;  // of the part before, 0 for the first
  std::string_view rest = plain;
  while (!rest.empty()) {
    const bool is_first = last_unit_s == 0.0;
    if (!is_first && (rest.front() == '-' || rest.front() == '+' || first.value < 0.0)) {
      throw Error{place,
                  fmt::format("a sign in a time of several parts, {}", in_quotes(first.text)),
                  "write a time such as 1h30min"};
    }
    const Number number = take_number(rest, first.text, place, duration_kind);
    const std::size_t end = std::min(rest.find_first_of("+-.0123456789"), rest.size());
    const std::string unit{trimmed(rest.substr(0, end))};
    rest.remove_prefix(end);
    if (unit.empty() && is_first) throw no_unit(number.text, place, duration_kind);
    if (unit.empty()) {
      throw Error{place,
                  fmt::format("{} has no unit in {}", number.text, in_quotes(first.text)),
                  "write a time such as 1h30min"};
    }
    const double unit_s = time_unit_s(unit);
    if (unit_s == 0.0) throw unknown_unit(unit, first.text, place, duration_kind);
    if (!is_first && unit_s >= last_unit_s) {
      throw Error{
          place,
          fmt::format("the parts of {} do not go from long to short", in_quotes(first.text)),
          "write a time such as 1d2h30min"};
    }
    total_s += number.value * unit_s;
    last_unit_s = unit_s;
  }
  check_finite(total_s, first.text, place);
  return seconds(total_s);
}

Rate read_rate(std::string_view text, const Place& place) {
  const QuantityKind kind{
      "a rate such as 5C/h or 9F/h", {"C/h", "F/h"}, "C/h, F/h, K/h, C/min, F/min, K/min"};
  const NumberAndUnit parts = split_number_and_unit(text, place, kind);
  if (parts.unit.empty()) throw no_unit(parts.number, place, kind);
  std::string unit = parts.unit;
  if (const std::size_t per = unit.find(" per "); per != unit.npos) unit.replace(per, 5, "/");
  const std::size_t bar = unit.find('/');
  const DegreeUnit degrees = degree_unit(unit.substr(0, bar));
  const double time_s = bar == unit.npos ? 0.0 : time_unit_s(unit.substr(bar + 1));
  if (degrees == DegreeUnit::none || time_s == 0.0) {
    throw unknown_unit(parts.unit, parts.text, place, kind);
  }
  const double per_h = parts.value * (hour_s / time_s);
  check_finite(per_h, parts.text, place);
  return degrees == DegreeUnit::fahrenheit ? Rate::from_F_per_h(per_h) : Rate::from_K_per_h(per_h);
}

namespace {

/// A pound is 0.45359237 kg, an inch 0.0254 m and standard gravity 9.80665 m/s2, all exactly.
constexpr Stress stress_from_psi(double v) {
  return Stress::from_Pa(v * (0.45359237 * 9.80665 / (0.0254 * 0.0254)));
}

constexpr Unit<Stress> stress_units[] = {
    {"MPa", Stress::from_MPa},
    {"Mpa", Stress::from_MPa},
    {"N/mm2", Stress::from_MPa},
    {"GPa", [](double v) { return Stress::from_Pa(v * 1e9); }},
    {"Gpa", [](double v) { return Stress::from_Pa(v * 1e9); }},
    {"kPa", [](double v) { return Stress::from_Pa(v * 1e3); }},
    {"Pa", Stress::from_Pa},
    {"N/m2", Stress::from_Pa},
    {"psi", stress_from_psi},
    {"PSI", stress_from_psi},
};

const QuantityKind stress_kind{"a stress such as 3MPa or 435psi",
                               {"MPa", "psi"},
                               "MPa, GPa, kPa, Pa, N/mm2, psi"};

}  // namespace

Stress read_stress(std::string_view text, const Place& place) {
  return read_with_unit(text, place, stress_kind, stress_units);
}

Stress read_stress_within(std::string_view text, const Place& place, Stress least, Stress most) {
  const NumberAndUnit parts = split_number_and_unit(text, place, stress_kind);
  QuantityKind kind = stress_kind;
  if (parts.unit.empty()) {
    std::erase_if(kind.offer, [&](std::string_view unit) {
      const Stress stress = find_unit(unit, stress_units)->of(parts.value);
      return !(stress >= least && stress <= most);
    });
  }
  return read_with_unit(text, place, kind.offer.empty() ? stress_kind : kind, stress_units);
}

Retardation read_retardation(std::string_view text, const Place& place) {
  constexpr Unit<Retardation> units[] = {{"nm/cm", Retardation::from_nm_per_cm}};
  return read_with_unit(text, place, {"a retardation such as 10nm/cm", {"nm/cm"}, "nm/cm"}, units);
}

double read_light_length_m(std::string_view text, const Place& place) {
  constexpr Unit<double> units[] = {
      {"nm", [](double v) { return v * 1e-9; }},
      {"um", [](double v) { return v * 1e-6; }},
      {"\u00B5m", [](double v) { return v * 1e-6; }},
      {"\u03BCm", [](double v) { return v * 1e-6; }},
  };
  return read_with_unit(text, place, {"a length of light such as 565nm", {"nm"}, "nm, um"}, units);
}

double read_angle_rad(std::string_view text, const Place& place) {
  constexpr auto from_degrees = [](double v) { return v * (std::numbers::pi / 180.0); };
  constexpr Unit<double> units[] = {
      {"deg", from_degrees},
      {"degree", from_degrees},
      {"degrees", from_degrees},
      {"\u00B0", from_degrees},
      {"rad", [](double v) { return v; }},
  };
  return read_with_unit(text, place, {"an angle such as 34deg", {"deg"}, "deg, rad"}, units);
}

double read_expansion_per_K(std::string_view text, const Place& place) {
  const NumberAndUnit parts = split_number_and_unit(text, place, expansion_kind);
  if (parts.unit.empty()) {
    if (parts.number.find_first_of("eE") != std::string::npos) return parts.value;
    throw no_expansion_unit(parts, place);
  }
  const double factor = expansion_unit_per_K(parts.unit);
  if (factor == 0.0) throw unknown_unit(parts.unit, parts.text, place, expansion_kind);
  const double expansion_per_K = parts.value * factor;
  check_finite(expansion_per_K, parts.text, place);
  return expansion_per_K;
}

double read_density_kg_per_m3(std::string_view text, const Place& place) {
  constexpr auto one = [](double v) { return v; };
  constexpr auto thousand = [](double v) { return v * 1e3; };
  constexpr Unit<double> units[] = {
      {"kg/m3", one},
      {"kg m-3", one},
      {"g/cm3", thousand},
      {"g cm-3", thousand},
      {"g/cc", thousand},
  };
  return read_with_unit(
      text, place, {"a density such as 2500kg/m3", {"kg/m3", "g/cm3"}, "kg/m3, g/cm3"}, units);
}

double read_conductivity_W_per_m_K(std::string_view text, const Place& place) {
  constexpr auto one = [](double v) { return v; };
  constexpr Unit<double> units[] = {
      {"W/(m K)", one},
      {"W/(K m)", one},
      {"W/m/K", one},
      {"W/m K", one},
      {"W/mK", one},
      {"W/(mK)", one},
      {"W m-1 K-1", one},
      {"W/(m C)", one},
      {"W/m/C", one},
      {"W/(m \u00B0C)", one},
  };
  return read_with_unit(
      text, place, {"a conductivity such as 1.05 W/(m K)", {" W/(m K)"}, "W/(m K), W/m/K"}, units);
}

double read_absorption_per_m(std::string_view text, const Place& place) {
  constexpr auto one = [](double v) { return v; };
  constexpr auto hundred = [](double v) { return v * 1e2; };
  constexpr auto thousand = [](double v) { return v * 1e3; };
  constexpr Unit<double> units[] = {
      {"/m", one},
      {"1/m", one},
      {"m-1", one},
      {"/cm", hundred},
      {"1/cm", hundred},
      {"cm-1", hundred},
      {"/mm", thousand},
      {"1/mm", thousand},
      {"mm-1", thousand},
  };
  return read_with_unit(
      text, place, {"an absorption such as 200 1/m", {" 1/m", " 1/cm"}, "1/m, 1/cm, 1/mm"}, units);
}

double read_heat_capacity_J_per_kg_K(std::string_view text, const Place& place) {
  constexpr auto one = [](double v) { return v; };
  constexpr auto thousand = [](double v) { return v * 1e3; };
  constexpr Unit<double> units[] = {
      {"J/(kg K)", one},
      {"J/kg/K", one},
      {"J/kg K", one},
      {"J/kgK", one},
      {"J/(kgK)", one},
      {"J kg-1 K-1", one},
      {"J/(kg \u00B0C)", one},
      {"J/(kg C)", one},
      {"kJ/(kg K)", thousand},
      {"kJ/kg/K", thousand},
      {"kJ/kg K", thousand},
      {"kJ/kgK", thousand},
      {"kJ/(kgK)", thousand},
      {"J/(g K)", thousand},
      {"J/g/K", thousand},
  };
  return read_with_unit(text,
                        place,
                        {"a heat capacity such as 840 J/(kg K)",
                         {" J/(kg K)"},
                         "J/(kg K), J/kg/K, kJ/(kg K), J/(g K)"},
                        units);
}

double read_film_coefficient_W_per_m2_K(std::string_view text, const Place& place) {
  constexpr auto one = [](double v) { return v; };
  constexpr Unit<double> units[] = {
      {"W/(m2 K)", one},
      {"W/m2/K", one},
      {"W/m2 K", one},
      {"W/m2K", one},
      {"W/(m2K)", one},
      {"W m-2 K-1", one},
      {"W/(m2 \u00B0C)", one},
      {"W/(m2 C)", one},
  };
  return read_with_unit(
      text,
      place,
      {"a film coefficient such as 8 W/(m2 K)", {" W/(m2 K)"}, "W/(m2 K), W/m2/K"},
      units);
}

double read_resistance_m2_K_per_W(std::string_view text, const Place& place) {
  constexpr auto one = [](double v) { return v; };
  constexpr Unit<double> units[] = {
      {"m2 K/W", one},
      {"m2K/W", one},
      {"K m2/W", one},
      {"m2 C/W", one},
  };
  return read_with_unit(
      text, place, {"a resistance such as 0.01 m2 K/W", {" m2 K/W"}, "m2 K/W, m2K/W"}, units);
}

double read_stress_optical_per_Pa(std::string_view text, const Place& place) {
  constexpr auto per_Pa = [](double v) { return v; };
  constexpr auto per_TPa = [](double v) { return v * 1e-12; };
  constexpr auto per_MPa = [](double v) { return v * 1e-6; };
  constexpr Unit<double> units[] = {
      {"1/TPa", per_TPa},
      {"/TPa", per_TPa},
      {"TPa-1", per_TPa},
      {"brewster", per_TPa},
      {"brewsters", per_TPa},
      {"Brewster", per_TPa},
      {"1/Pa", per_Pa},
      {"/Pa", per_Pa},
      {"Pa-1", per_Pa},
      {"m2/N", per_Pa},
      {"mm2/N", per_MPa},
      {"1/MPa", per_MPa},
      {"/MPa", per_MPa},
      {"MPa-1", per_MPa},
  };
  return read_with_unit(text,
                        place,
                        {"a stress-optical coefficient such as 2.7 /TPa",
                         {"/TPa", " brewster"},
                         "/TPa, brewster, mm2/N, /Pa"},
                        units);
}

double read_number(std::string_view text, const Place& place) {
  const NumberAndUnit parts = split_number_and_unit(text, place, {"a number such as 0.22", {}, ""});
  if (!parts.unit.empty()) {
    throw Error{place,
                fmt::format("{} after the number {}", in_quotes(parts.unit), parts.number),
                "write a number without a unit"};
  }
  return parts.value;
}

double read_uncertain_share(std::string_view text, const Place& place) {
  constexpr auto hundredth = [](double v) { return 0.01 * v; };
  constexpr Unit<double> units[] = {{"%", hundredth}, {"percent", hundredth}};
  const double share =
      read_with_unit(text, place, {"a share such as 10 %", {" %"}, "%, percent"}, units);
  if (share >= least_uncertain_share && share <= most_uncertain_share) return share;
  throw Error{place,
              fmt::format("{:g} % is outside {:g} to {:g} %",
                          100.0 * share,
                          100.0 * least_uncertain_share,
                          100.0 * most_uncertain_share),
              "write how far the value may be off either way, such as 10 %"};
}

int read_whole_number(std::string_view text, const Place& place) {
  const std::string_view digits = trimmed(text);
  int value = 0;
  const bool only_digits = !digits.empty() && digits.find_first_not_of("0123456789") == digits.npos;
  if (!only_digits) {
    throw Error{
        place, fmt::format("{} is not a whole number", in_quotes(digits)), "write one such as 7"};
  }
  if (std::from_chars(digits.data(), digits.data() + digits.size(), value).ec != std::errc{}) {
    throw Error{place,
                fmt::format("{} is too large for a whole number", in_quotes(digits)),
                "check its digits"};
  }
  return value;
}

}  // namespace thickset

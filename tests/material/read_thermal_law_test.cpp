#include "material/read_thermal_law.h"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "message_of.h"

using namespace thickset;

namespace {

constexpr ThermalLimits wide{1e-3, 1e5};
constexpr double round_off = 1e-12;

std::vector<Entry> entries(const std::string& key, const std::vector<std::string>& values) {
  std::string text;
  for (const std::string& value : values) text += key + " = " + value + "\n";
  return parse_entries(text, "file");
}

ThermalLaw conductivity(const std::vector<std::string>& values,
                        const ThermalLimits& limits = wide) {
  return read_thermal_law(entries("conductivity", values), ThermalQuantity::conductivity, limits);
}
ThermalLaw heat_capacity(const std::vector<std::string>& values) {
  return read_thermal_law(entries("heat_capacity", values), ThermalQuantity::heat_capacity, wide);
}
std::string refusal(const std::vector<std::string>& values, const ThermalLimits& limits = wide) {
  return message_of([&] { conductivity(values, limits); });
}

const std::vector<std::string> published_heat_capacity = {
    "893 + 0.4 T - 1.8e7 / T^2 J/(kg K) for 150..850 K",
    "1433 + 6.5e-3 T J/(kg K) for 850..1300 K"};

}  // namespace

TEST_CASE("a constant is read in any of its units and holds at every temperature") {
  CHECK(conductivity({"1.05 W/(m K)"}).is_constant());
  CHECK(conductivity({"1.05 W/m/K"}).at(20.0) == doctest::Approx(1.05).epsilon(round_off));
  CHECK(heat_capacity({"0.84 kJ/(kg K)"}).at(900.0) == doctest::Approx(840.0).epsilon(round_off));
}

TEST_CASE("the published heat capacity of soda-lime joins two pieces at 850 K, with its jump") {
  // [NIELSEN10]; values at 293 and 773 K and on both sides of the jump computed by hand.
  const ThermalLaw law = heat_capacity(published_heat_capacity);
  REQUIRE(law.pieces().size() == 2);
  constexpr double half_a_unit = 0.5;
  CHECK(std::abs(law.at(293.0) - 800.5) <= half_a_unit);
  CHECK(std::abs(law.at(773.0) - 1172.0) <= half_a_unit);
  CHECK(std::abs(law.at(849.999) - 1208.0) <= half_a_unit);
  CHECK(std::abs(law.at(850.001) - 1438.5) <= half_a_unit);
  CHECK(law.from_K() == 150.0);
  CHECK(law.to_K() == 1300.0);
}

TEST_CASE("T of a law is in kelvin whatever the unit of its range") {
  const ThermalLaw law = conductivity({"0.741 + 8.58e-4 T W/(m K) for 0..500 C"});
  CHECK(law.from_K() == doctest::Approx(273.15).epsilon(round_off));
  CHECK(law.to_K() == doctest::Approx(773.15).epsilon(round_off));
  // [CARRE99]: k = 0.975 + 8.58e-4 t with t in C; 0.741 is rounded from 0.975 - 8.58e-4 * 273.15.
  constexpr double rounding_of_0_741 = 1e-3;
  CHECK(std::abs(law.at(273.15 + 300.0) - (0.975 + 8.58e-4 * 300.0)) <= rounding_of_0_741);
}

TEST_CASE("the terms of a law may stand in any order, with and without spaces and stars") {
  const double expected = 893.0 + 0.4 * 500.0 - 1.8e7 / (500.0 * 500.0);
  for (const char* value : {"893 + 0.4 T - 1.8e7 / T^2 J/(kg K) for 150..850 K",
                            "0.4 T+893-1.8e7/T^2 J/(kg K) for 150..850K",
                            "-1.8e7/T^2 + 0.4*T + 893 J/kg/K for 150 K..850 K",
                            "0.893 + 4e-4 T - 1.8e4 / T ^ 2 kJ/(kg K) for 150..850 K"}) {
    CAPTURE(value);
    CHECK(heat_capacity({value}).at(500.0) == doctest::Approx(expected).epsilon(round_off));
  }
}

TEST_CASE("pieces written in C and in K meet where the temperatures are the same") {
  const ThermalLaw law = conductivity({"1 W/(m K) for 20..226.85 C", "1.2 W/(m K) for 500..600 K"});
  CHECK(law.pieces()[0].to_K == law.pieces()[1].from_K);
}

TEST_CASE("a table is joined by straight lines and keeps its end values outside") {
  const ThermalLaw law = conductivity({"table 20 C 1.05, 516 C 1.40 W/(m K)"});
  CHECK(law.at(293.15) == doctest::Approx(1.05).epsilon(round_off));
  CHECK(law.at(273.15 + 268.0) == doctest::Approx(1.225).epsilon(round_off));
  CHECK(law.at(1200.0) == doctest::Approx(1.40).epsilon(round_off));
  CHECK_FALSE(law.covers(1200.0));
  CHECK(conductivity({"table -100C 0.90, 0 °C 1.10, 212F 1.25 W/(m K)"}).at(323.15) ==
        doctest::Approx(1.175).epsilon(round_off));
}

TEST_CASE("a law is written as it is read") {
  const ThermalLaw law = heat_capacity(published_heat_capacity);
  const std::string text = thermal_law_text(law, ThermalQuantity::heat_capacity);
  CHECK(text ==
        "893 + 0.4 T - 1.8e+07 / T^2 J/(kg K) for 150..850 K, then "
        "1433 + 0.0065 T J/(kg K) for 850..1300 K");
  const std::size_t comma = text.find(", then ");
  const ThermalLaw again = heat_capacity({text.substr(0, comma), text.substr(comma + 7)});
  for (double T_K = 150.0; T_K <= 1300.0; T_K += 50.0) CHECK(again.at(T_K) == law.at(T_K));
  CHECK(thermal_law_text(conductivity({"1.05 W/(m K)"}), ThermalQuantity::conductivity) ==
        "1.05 W/(m K)");
}

TEST_CASE("every malformed conductivity is refused where it goes wrong") {
  // "conductivity = " takes 15 characters: the value begins in column 16.
  constexpr const char* law_form = "; write a law as \"a + b T - c / T^2 W/(m K)\", T in kelvin";
  constexpr const char* table_form = "; write a table as \"table 20 C 1.05, 516 C 1.40 W/(m K)\"";
  const std::vector<std::pair<std::string, std::string>> rows = {
      {"0.7 + 1e-3 T W/(m K)",
       "file:1:16: a law in T without the range it holds for; add the range, such as \"for 20..500 "
       "C\""},
      {"0.7 + x T W/(m K) for 20..500 C",
       std::string{"file:1:22: \"x T W/(m K)\" does not begin with a number"} + law_form},
      {"nan W/(m K) for 20..500 C",
       std::string{"file:1:16: \"nan W/(m K)\" does not begin with a number"} + law_form},
      {"for 20..500 C", std::string{"file:1:16: a number is missing at the end"} + law_form},
      {"1e999 W/(m K) for 20..500 C",
       "file:1:16: a number too large or too small to compute with; check the exponent"},
      {"0.7 + 1e-3 T^2 W/(m K) for 20..500 C",
       std::string{"file:1:27: a power of T that is not known here"} + law_form},
      {"0.7 + 3 / T W/(m K) for 20..500 C",
       std::string{"file:1:24: a power of T that is not known here"} + law_form},
      {"0.7 + 0.2 W/(m K) for 20..500 C",
       std::string{"file:1:22: a second constant term"} + law_form},
      {"0.7 + 1e-3 T + 1e-4 T W/(m K) for 20..500 C",
       std::string{"file:1:31: a second T term"} + law_form},
      {"0.7 + 1e-3 T for 20..500 C",
       "file:1:28: the unit is missing; write W/(m K) after the numbers"},
      {"0.7 W/(m K) for 500..20 C",
       "file:1:32: the range does not rise; write the lower temperature first"},
      {"0.7 W/(m K) for 500 C",
       "file:1:32: \"500 C\" is not a range; write a range as \"20..500 C\""},
      {"0.7 W/(m K) for 20..5000 C",
       "file:1:32: the range leaves 1..3000 K; check the temperatures and their unit"},
      {"0.7 - 1e-3 T W/(m K) for 300..900 K",
       "file:1:16: conductivity is -0.2 W/(m K) at 900 K (626.85 C), not positive; check the "
       "numbers, their signs and the range"},
      {"0 W/(m K) for 300..900 K",
       "file:1:16: conductivity is 0 W/(m K) at 300 K (26.85 C), not positive; check the numbers, "
       "their signs and the range"},
      {"table 20 C 1.05 W/(m K)", "file:1:16: a table of one point; give two points or a constant"},
      {"table", std::string{"file:1:21: a number is missing at the end"} + table_form},
      {"table 20 C, 516 C 1.40 W/(m K)",
       std::string{"file:1:26: a number is missing at the end"} + table_form},
      {"table 20 C 1.05, 516 C W/(m K)",
       std::string{"file:1:39: \"W/(m K)\" does not begin with a number"} + table_form},
      {"table 516 C 1.40, 20 C 1.05 W/(m K)",
       "file:1:34: a table whose temperatures do not rise; order its points from cold to hot"},
      {"table 20 C 1.05 W/(m K), 516 C 1.40 W/(m K)",
       "file:1:32: \"W/(m K)\" after a value of a table; part the points by commas and give the "
       "unit once, at the end"},
      {"table 20 C 1.05, 516 C 1.40",
       "file:1:43: the unit is missing; write W/(m K) after the numbers"},
      {"table 20 C 1.05, 516 C 0 W/(m K)",
       "file:1:33: conductivity is 0 W/(m K) at 789.15 K (516 C), not positive; check the numbers, "
       "their signs and the range"}};
  for (const auto& row : rows) {
    const std::string& value = row.first;
    const std::string& message = row.second;
    CAPTURE(value);
    CHECK(refusal({value}) == message);
  }
}

TEST_CASE("a bare number, an unknown unit and a wrong quantity are refused as a quantity is") {
  CHECK(refusal({"1.05"}).find("file:1:16: 1.05 has no unit") == 0);
  CHECK(refusal({"1.05 W"}).find("file:1:16: unknown unit \"W\"") == 0);
  CHECK(refusal({"840 J/(kg K)"}).find("file:1:16: unknown unit \"J/(kg K)\"") == 0);
  CHECK(refusal({"0.7 + 1e-3 T J/(kg K) for 20..500 C"}).find("file:1:29: unknown unit") == 0);
  CHECK(refusal({"0.7 W/(m K) for 20..500"}).find("file:1:32: 20 has no unit") == 0);
  CHECK(refusal({"table 20 1.05, 516 1.40 W/(m K)"})
            .find("file:1:22: a temperature of the table has no unit; write a table as") == 0);
}

TEST_CASE("a law that dips below zero between two positive ends is found out") {
  // Lowest at T^3 = 2 c/b, T = 584.804 K, where it is -10 + 5.84804 + 2.92401 (by hand).
  const std::string message = refusal({"-10 + 0.01 T + 1e6 / T^2 W/(m K) for 200..1200 K"});
  CHECK(message.find("conductivity is -1.22795") != std::string::npos);
  CHECK(message.find("at 584.804 K") != std::string::npos);
}

TEST_CASE("values outside the limits are named with their temperature") {
  const ThermalLimits glass{0.2, 5.0};
  CHECK(refusal({"1050 W/(m K)"}, glass) ==
        "file:1:16: conductivity 1050 W/(m K) is outside 0.2..5 W/(m K); check the numbers and the "
        "unit");
  CHECK(refusal({"0.5 + 0.01 T W/(m K) for 300..900 K"}, glass) ==
        "file:1:16: conductivity 9.5 W/(m K) at 900 K (626.85 C) is outside 0.2..5 W/(m K); check "
        "the numbers and the unit");
}

TEST_CASE("pieces that do not meet are refused, and so are two constants") {
  CHECK(refusal({"1 W/(m K) for 300..500 K", "1.2 W/(m K) for 510..700 K"}) ==
        "file:2:16: this piece begins at 510 K but the one before ends at 500 K; order the pieces "
        "from cold to hot and let them meet end to end");
  CHECK(refusal({"1 W/(m K) for 300..500 K", "1.2 W/(m K) for 200..300 K"})
            .find("file:2:16: this piece begins at 200 K") == 0);
  CHECK(refusal({"1 W/(m K)", "1.2 W/(m K) for 300..700 K"}) ==
        "file:1:16: conductivity is given twice; keep one, or give each line a range such as \"for "
        "20..500 C\"");
  CHECK(refusal({"1 W/(m K) for 300..500 K", "table 500 K 1, 700 K 2 W/(m K)"})
            .find("file:2:16: conductivity is given twice") == 0);
}

TEST_CASE("all bad lines of a law are reported at once, without blame for what follows them") {
  const std::string message = refusal(
      {"1 W/(m K) for 500..300 K", "1.2 W/(m K) for 500..700 K", "x W/(m K) for 700..800 K"});
  CHECK(message.find("file:1:30: the range does not rise") == 0);
  CHECK(message.find("\nfile:3:16: \"x W/(m K)\" does not begin") != std::string::npos);
  CHECK(message.find("file:2") == std::string::npos);
}

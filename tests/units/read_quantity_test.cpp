#include "units/read_quantity.h"

#include <clocale>
#include <cmath>
#include <locale>
#include <random>
#include <string>

#include <doctest/doctest.h>

#include "message_of.h"
#include "slow_build.h"

using namespace thickset;

namespace {

const Place option{"--x"};

// A few roundings of doubles: a value is read and converted, nothing is approximated.
constexpr double rounding_rel = 4e-16 * 4;

bool same(double a, double b) {
  return std::abs(a - b) <= rounding_rel * std::abs(b);
}

double C(std::string_view text) {
  return read_temperature(text, option).in_C();
}
double dK(std::string_view text) {
  return read_temperature_difference(text, option).in_K();
}
double mm(std::string_view text) {
  return read_length(text, option).in_mm();
}
double s(std::string_view text) {
  return in_s(read_duration(text, option));
}
double K_per_h(std::string_view text) {
  return read_rate(text, option).in_K_per_h();
}
double Pa(std::string_view text) {
  return read_stress(text, option).in_Pa();
}
double per_K(std::string_view text) {
  return read_expansion_per_K(text, option);
}

// What each reader says of a text it refuses.
std::string C_says(std::string_view text) {
  return message_of([&] { C(text); });
}
std::string dK_says(std::string_view text) {
  return message_of([&] { dK(text); });
}
std::string mm_says(std::string_view text) {
  return message_of([&] { mm(text); });
}
std::string s_says(std::string_view text) {
  return message_of([&] { s(text); });
}
std::string rate_says(std::string_view text) {
  return message_of([&] { K_per_h(text); });
}
std::string Pa_says(std::string_view text) {
  return message_of([&] { Pa(text); });
}
std::string per_K_says(std::string_view text) {
  return message_of([&] { per_K(text); });
}

using Reader = double (*)(std::string_view, const Place&);

std::string says(Reader read, std::string_view text) {
  return message_of([&] { read(text, option); });
}

/// Runs every reader on a text; gives how many refused it. Anything but an Error escapes.
int count_refusals(std::string_view text) {
  int refused = 0;
  const auto attempt = [&](auto&& read) {
    try {
      read(text, option);
    } catch (const Error& error) {
      CHECK(std::string_view{error.what()}.starts_with("--x: "));
      ++refused;
    }
  };
  attempt(read_temperature);
  attempt(read_temperature_difference);
  attempt(read_length);
  attempt(read_duration);
  attempt(read_rate);
  attempt(read_stress);
  attempt(read_retardation);
  attempt(read_expansion_per_K);
  attempt(read_density_kg_per_m3);
  attempt(read_conductivity_W_per_m_K);
  attempt(read_heat_capacity_J_per_kg_K);
  attempt(read_film_coefficient_W_per_m2_K);
  attempt(read_resistance_m2_K_per_W);
  attempt(read_stress_optical_per_Pa);
  attempt(read_light_length_m);
  attempt(read_angle_rad);
  attempt(read_number);
  attempt(read_whole_number);
  return refused;
}
constexpr int number_of_readers = 18;

}  // namespace

TEST_CASE("quantity: temperatures in every spelling are the same point") {
  for (const char* text : {"516C",
                           "516 C",
                           "516c",
                           "516 \u00B0C",
                           "516\u00B0 C",
                           "516 degC",
                           "516 deg C",
                           "516\u2103",
                           "516 \u00BA"
                           "C",
                           "+516 C",
                           "5.16e2 C",
                           " 516C\t",
                           "516\u00A0\u00B0C"}) {
    CAPTURE(text);
    CHECK(read_temperature(text, option) == Temperature::from_C(516.0));
  }
  // [NISTSP811] Appendix B.8: t/degC = (t/degF - 32)/1.8.
  CHECK(read_temperature("212 \u00B0"
                         "F",
                         option) == Temperature::from_C(100.0));
  CHECK(read_temperature("32f", option) == Temperature::from_C(0.0));
  CHECK(read_temperature("-40F", option) == read_temperature("\u221240 C", option));
  CHECK(read_temperature("273.15K", option) == Temperature::from_C(0.0));
}

TEST_CASE("quantity: temperature differences never shift by 32 or by 273.15") {
  CHECK(dK("5K") == 5.0);
  CHECK(dK("5 C") == 5.0);
  CHECK(dK("9 \u00B0"
           "F") == 5.0);
  CHECK(dK("0F") == 0.0);
  CHECK(dK("-5K") == -5.0);
}

TEST_CASE("quantity: lengths in every spelling") {
  // [NISTSP811] Appendix B.8: 1 inch = 2.54 E-02 m, 1 foot = 3.048 E-01 m, both exactly.
  for (const char* text : {"76.2mm",
                           "7.62 cm",
                           "0.0762 m",
                           "3in",
                           "3 inch",
                           "3 inches",
                           "3 in.",
                           "3\"",
                           "3\u2033",
                           "3\u201D",
                           "0.25 ft",
                           ".25ft",
                           "3.in",
                           "762e-1mm",
                           "0.25'"}) {
    CAPTURE(text);
    CHECK(same(mm(text), 76.2));
  }
}

TEST_CASE("quantity: durations in every spelling") {
  for (const char* text : {"5400s",
                           "5400 sec",
                           "90min",
                           "90 minutes",
                           "1.5h",
                           "1.5 hr",
                           "1.5 hours",
                           "0.0625 d",
                           "1h30min",
                           "1h 30min",
                           "1 h 30 min",
                           "1h29min60s",
                           "1:30",
                           "01:30"}) {
    CAPTURE(text);
    CHECK(s(text) == 5400.0);
  }
  CHECK(s("36:30") == 131400.0);
  CHECK(s("2 days") == 172800.0);
  CHECK(s("1d12h") == 129600.0);
  CHECK(s("0:00") == 0.0);
}

TEST_CASE("quantity: rates are differences per time") {
  for (const char* text : {"10C/h",
                           "10 K/h",
                           "10 \u00B0"
                           "C / hr",
                           "18F/h",
                           "18 \u00B0"
                           "F/h",
                           "10 C per hour",
                           "0.3 F/min",
                           "240 C/d"}) {
    CAPTURE(text);
    CHECK(same(K_per_h(text), 10.0));
  }
  CHECK(same(read_rate("10C/h", option).in_F_per_h(), 18.0));
  CHECK(same(K_per_h("0.1 C/min"), 6.0));
  CHECK(same(K_per_h("-5K/h"), -5.0));
}

TEST_CASE("quantity: stresses in every spelling") {
  for (const char* text : {"3MPa",
                           "3 N/mm2",
                           "3 N/mm\u00B2",
                           "3 N/mm^2",
                           "3000 kPa",
                           "3e6 Pa",
                           "0.003 GPa",
                           "3e6 N/m2"}) {
    CAPTURE(text);
    CHECK(same(Pa(text), 3e6));
  }
  // [NISTSP811] Appendix B.8: 1 psi = 6.894757 E+03 Pa, rounded to seven digits.
  constexpr double half_last_digit_Pa = 0.5e-3;
  CHECK(std::abs(Pa("1 psi") - 6894.757) <= half_last_digit_Pa);
  CHECK(std::abs(Pa("1000psi") - 6894757.0) <= 1000.0 * half_last_digit_Pa);
}

TEST_CASE("quantity: expansions in every spelling are the same") {
  for (const char* text : {"9.0e-6/K",
                           "9.0e-6 /K",
                           "9.0e-6 1/K",
                           "9.0 1e-6/K",
                           "9 ppm/K",
                           "90e-7",
                           "90E-7",
                           "90e-7/K",
                           "90e-7 /C",
                           "9e-6 1/\u00B0"
                           "C",
                           "5.0e-6/F",
                           "5 ppm/\u00B0"
                           "F",
                           "9.0 \u00D7 10\u207B\u2076 K\u207B\u00B9",
                           "90 x10^-7/K",
                           "9.0 10-6/K",
                           "90 1e-7/K",
                           "0.000009/K",
                           "9.0 x 1e-6 1/K"}) {
    CAPTURE(text);
    CHECK(same(per_K(text), 9.0e-6));
  }
}

TEST_CASE("quantity: properties of glass in every spelling") {
  for (const char* text :
       {"2500 kg/m3", "2500kg/m\u00B3", "2.5 g/cm3", "2.5 g/cm^3", "2500 kg m\u207B\u00B3"}) {
    CAPTURE(text);
    CHECK(same(read_density_kg_per_m3(text, option), 2500.0));
  }
  for (const char* text : {"1.05 W/(m K)",
                           "1.05 W/m/K",
                           "1.05W/(m\u00B7K)",
                           "1.05 W/(m*K)",
                           "1.05 W / (m K)",
                           "1.05 W/(m.K)",
                           "1.05 W/mK",
                           "1.05 W/m K",
                           "1.05 W m\u207B\u00B9 K\u207B\u00B9"}) {
    CAPTURE(text);
    CHECK(read_conductivity_W_per_m_K(text, option) == 1.05);
  }
  for (const char* text : {"840 J/(kg K)",
                           "840 J/kg/K",
                           "0.84 kJ/(kg K)",
                           "0.84 kJ/kgK",
                           "0.84 J/(g K)",
                           "840 J/(kg\u22C5K)"}) {
    CAPTURE(text);
    CHECK(same(read_heat_capacity_J_per_kg_K(text, option), 840.0));
  }
  for (const char* text :
       {"8 W/(m2 K)", "8 W/m2/K", "8 W/m\u00B2K", "8W/(m^2 K)", "8 W/(m\u00B2\u00B7K)"}) {
    CAPTURE(text);
    CHECK(read_film_coefficient_W_per_m2_K(text, option) == 8.0);
  }
  for (const char* text : {"0.01 m2 K/W", "0.01 m2K/W", "0.01 m\u00B2K/W", "0.01 m^2 K/W"}) {
    CAPTURE(text);
    CHECK(read_resistance_m2_K_per_W(text, option) == 0.01);
  }
  for (const char* text : {"2.7 1/TPa",
                           "2.7 /TPa",
                           "2.7/TPa",
                           "2.7 TPa\u207B\u00B9",
                           "2.7 brewster",
                           "2.7e-6 mm2/N",
                           "2.7e-6 mm\u00B2/N",
                           "2.7e-12 1/Pa",
                           "2.7e-12 m2/N",
                           "2.7e-6 /MPa"}) {
    CAPTURE(text);
    CHECK(same(read_stress_optical_per_Pa(text, option), 2.7e-12));
  }
  CHECK(read_retardation("10nm/cm", option).in_nm_per_cm() == 10.0);
  CHECK(read_retardation("10 nm / cm", option).in_nm_per_cm() == 10.0);
}

TEST_CASE("quantity: lengths of light and angles") {
  for (const char* const text : {"565nm", "565 nm", "0.565um", "0.565 µm"}) {
    CAPTURE(text);
    CHECK(same(read_light_length_m(text, option), 565e-9));
  }
  for (const char* const text : {"90deg", "90 degrees", "90°", "1.5707963267948966 rad"}) {
    CAPTURE(text);
    CHECK(same(read_angle_rad(text, option), 1.5707963267948966));
  }
}

TEST_CASE("quantity: plain numbers") {
  CHECK(read_number("0.22", option) == 0.22);
  CHECK(read_number(" -1e3 ", option) == -1000.0);
  CHECK(read_whole_number("7", option) == 7);
  CHECK(read_whole_number(" 007 ", option) == 7);
}

TEST_CASE("quantity: a bare number is refused with what to write instead") {
  CHECK(mm_says("100") == "--x: 100 has no unit; write 100mm, 100cm or 100in");
  CHECK(mm_says("7.5") == "--x: 7.5 has no unit; write 7.5mm, 7.5cm or 7.5in");
  CHECK(C_says("930") == "--x: 930 has no unit; write 930C or 930F");
  CHECK(dK_says("5") == "--x: 5 has no unit; write 5K, 5C or 5F");
  CHECK(s_says("90") == "--x: 90 has no unit; write 90min or 90h");
  CHECK(s_says("1h30") == "--x: 30 has no unit in \"1h30\"; write a time such as 1h30min");
  CHECK(rate_says("5") == "--x: 5 has no unit; write 5C/h or 5F/h");
  CHECK(Pa_says("3") == "--x: 3 has no unit; write 3MPa or 3psi");
  CHECK(says([](auto text, auto& p) { return read_retardation(text, p).in_nm_per_cm(); }, "10") ==
        "--x: 10 has no unit; write 10nm/cm");
  CHECK(says(read_density_kg_per_m3, "2500") ==
        "--x: 2500 has no unit; write 2500kg/m3 or 2500g/cm3");
  CHECK(says(read_conductivity_W_per_m_K, "1.05") == "--x: 1.05 has no unit; write 1.05 W/(m K)");
  CHECK(says(read_heat_capacity_J_per_kg_K, "840") == "--x: 840 has no unit; write 840 J/(kg K)");
  CHECK(says(read_film_coefficient_W_per_m2_K, "8") == "--x: 8 has no unit; write 8 W/(m2 K)");
  CHECK(says(read_resistance_m2_K_per_W, "0.1") == "--x: 0.1 has no unit; write 0.1 m2 K/W");
  CHECK(says(read_stress_optical_per_Pa, "2.7") ==
        "--x: 2.7 has no unit; write 2.7/TPa or 2.7 brewster");
}

TEST_CASE("quantity: a bare expansion is refused with its two meanings apart") {
  CHECK(per_K_says("90") == "--x: 90 has no unit; write 90e-7/K or 9.0e-6/K");
  CHECK(per_K_says("96.5") == "--x: 96.5 has no unit; write 96.5e-7/K or 9.65e-6/K");
  CHECK(per_K_says("9.0") == "--x: 9.0 has no unit; write 9.0e-6/K");
  CHECK(per_K_says("0.000009") ==
        "--x: 0.000009 has no unit; write an expansion such as 9.0e-6/K or 90e-7/K");
}

TEST_CASE("quantity: an unknown unit is refused with those that are known") {
  CHECK(mm_says("100xx") == "--x: unknown unit \"xx\" in \"100xx\"; known: mm, cm, m, in, ft");
  CHECK(C_says("5 mm") == "--x: unknown unit \"mm\" in \"5 mm\"; known: C, F, K");
  CHECK(dK_says("5 R") == "--x: unknown unit \"R\" in \"5 R\"; known: K, C, F");
  CHECK(s_says("5 weeks") == "--x: unknown unit \"weeks\" in \"5 weeks\"; known: s, min, h, d");
  CHECK(rate_says("5C") ==
        "--x: unknown unit \"C\" in \"5C\"; known: C/h, F/h, K/h, C/min, F/min, K/min");
  CHECK(Pa_says("3 mPa") ==
        "--x: unknown unit \"mPa\" in \"3 mPa\"; known: MPa, GPa, kPa, Pa, N/mm2, psi");
  CHECK(per_K_says("9 x") ==
        "--x: unknown unit \"x\" in \"9 x\"; known: /K, 1/K, 1e-6/K, 1e-7/K, ppm/K, /C, /F");
  CHECK(says(read_density_kg_per_m3, "1 lb/ft3") ==
        "--x: unknown unit \"lb/ft3\" in \"1 lb/ft3\"; known: kg/m3, g/cm3");
  CHECK(says(read_conductivity_W_per_m_K, "1 W/(m2 K)") ==
        "--x: unknown unit \"W/(m2 K)\" in \"1 W/(m2 K)\"; known: W/(m K), W/m/K");
  CHECK(says(read_number, "0.22 mm") ==
        "--x: \"mm\" after the number 0.22; write a number without a unit");
  CHECK(mm_says("1/2in") == "--x: unknown unit \"/2in\" in \"1/2in\"; write 0.5, not 1/2");
  CHECK(mm_says("3 1/2\"") == "--x: unknown unit \"1/2\"\" in \"3 1/2\"\"; write 0.5, not 1/2");
  CHECK(mm_says("5 5 mm").starts_with("--x: unknown unit \"5 mm\""));
}

TEST_CASE("quantity: what is no decimal number is refused") {
  const std::string write = "; write a length such as 100mm or 4in";
  for (const std::string text : {"nan mm",
                                 "inf mm",
                                 "-infinity mm",
                                 "mm",
                                 "--5mm",
                                 "e5mm",
                                 ".mm",
                                 "five mm",
                                 "\u00BD in",
                                 "+ 5mm"}) {
    CAPTURE(text);
    CHECK(mm_says(text) == "--x: \"" + text + "\" does not start with a number" + write);
  }
  CHECK(mm_says("") == "--x: nothing is given" + write);
  CHECK(mm_says(" \t ") == "--x: nothing is given" + write);
  CHECK(mm_says("0x10mm") == "--x: \"0x10mm\" is hexadecimal" + write);
  CHECK(mm_says("7.5.2mm") == "--x: \"7.5.2mm\" has two points in its number" + write);
  CHECK(mm_says("7,5 mm") ==
        "--x: \"7,5 mm\" has a comma in its number; write a point before the decimals, and nothing "
        "between thousands");
  CHECK(mm_says("1e999mm") ==
        "--x: \"1e999\" is too large or too small to compute with; check its exponent");
  CHECK(mm_says("1e-999mm").starts_with("--x: \"1e-999\" is too large or too small"));
  CHECK(mm_says(std::string(101, '1')) ==
        "--x: \"" + std::string(60, '1') + "...\" is too long" + write);
  CHECK(says([](auto text, auto& p) -> double { return read_whole_number(text, p); }, "7.5") ==
        "--x: \"7.5\" is not a whole number; write one such as 7");
  CHECK(says([](auto text, auto& p) -> double { return read_whole_number(text, p); }, "-1") ==
        "--x: \"-1\" is not a whole number; write one such as 7");
  CHECK(says([](auto text, auto& p) -> double { return read_whole_number(text, p); },
             "99999999999") ==
        "--x: \"99999999999\" is too large for a whole number; check its digits");
}

TEST_CASE("quantity: a value that overflows on its way to SI units is refused") {
  const std::string mend = " is too large to compute with; check the number and its unit";
  CHECK(Pa_says("1e305GPa") == "--x: \"1e305GPa\"" + mend);
  CHECK(s_says("1e308d") == "--x: \"1e308d\"" + mend);
  CHECK(rate_says("1e308C/s") == "--x: \"1e308C/s\"" + mend);
  CHECK(mm_says("1e308ft") == "--x: \"1e308ft\"" + mend);
  CHECK(std::isfinite(C("1e308F")));
}

TEST_CASE("quantity: malformed times are refused") {
  CHECK(s_says("36:75") == "--x: \"36:75\" has 75 minutes in its hour; write 37:15");
  for (const std::string text : {"36:3", "36:30:15", "36:30h", "1.5:30", "-1:30", "1h:30"}) {
    CAPTURE(text);
    CHECK(s_says(text) ==
          "--x: \"" + text + "\" is not hours:minutes; write a time such as 36:30 or 36h30min");
  }
  CHECK(
      s_says("30min1h") ==
      "--x: the parts of \"30min1h\" do not go from long to short; write a time such as 1d2h30min");
  CHECK(s_says("1h1h").starts_with("--x: the parts of \"1h1h\" do not go from long to short"));
  CHECK(s_says("1h-5min") ==
        "--x: a sign in a time of several parts, \"1h-5min\"; write a time such as 1h30min");
  CHECK(s_says("-1h30min").starts_with("--x: a sign in a time of several parts"));
}

TEST_CASE("quantity: results and messages do not depend on the locale") {
  // Not every system has a locale with a decimal comma; the C++ one is made here, the C one is used
  // where it exists.
  struct Comma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
  };
  const std::string c_locale_before = std::setlocale(LC_ALL, nullptr);
  const std::locale before = std::locale::global(std::locale{std::locale::classic(), new Comma});
  for (const char* name : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8", "nl_NL.UTF-8"}) {
    if (std::setlocale(LC_ALL, name) != nullptr) break;
  }
  const double length_mm = mm("7.5mm");
  const double expansion_per_K = per_K("9.5e-6/K");
  const std::string comma = mm_says("7,5mm");
  const std::string bare = per_K_says("96.5");
  std::locale::global(before);
  std::setlocale(LC_ALL, c_locale_before.c_str());

  CHECK(length_mm == mm("7.5mm"));
  CHECK(same(length_mm, 7.5));
  CHECK(expansion_per_K == 9.5e-6);
  CHECK(comma.starts_with("--x: \"7,5mm\" has a comma in its number"));
  CHECK(bare == "--x: 96.5 has no unit; write 96.5e-7/K or 9.65e-6/K");
}

TEST_CASE("quantity: random bytes and random pieces of quantities throw Error or give a value") {
  std::mt19937 random{1};
  constexpr std::string_view pieces[] = {
      "1",    "e",    "-", "+", ".", ",",       ":", "/",   " ",  "\"",     "mm",           "in",
      "h",    "min",  "C", "F", "K", "W/(m K)", "x", "e-7", "99", "\u00B0", "\u207B\u00B9", "\xC2",
      "\xFF", "1e308"};
  int refused = 0;
  int tried = 0;
  constexpr int texts = slow_build ? 4'000 : 20'000;
  for (int i = 0; i < texts; ++i) {
    std::string text;
    for (auto left = random() % 6; left > 0; --left) text += pieces[random() % std::size(pieces)];
    refused += count_refusals(text);
    tried += number_of_readers;
    for (char& c : text) c = static_cast<char>(random() % 256);
    refused += count_refusals(text);
    tried += number_of_readers;
  }
  CHECK(refused < tried);
  CHECK(refused > tried / 2);
}

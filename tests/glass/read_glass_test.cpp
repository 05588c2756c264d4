#include "glass/read_glass.h"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "base/data_folder.h"
#include "message_of.h"
#include "temporary_folder.h"

using namespace thickset;

namespace {

const std::string shipped_folder = THICKSET_SOURCE "/data";
const std::string minimal =
    "expansion = 90e-7\n"
    "annealing_point = 960 F\n"
    "strain_point = 896 F\n";

Glass shipped(const std::string& name) {
  return read_glass(shipped_folder + "/glasses/" + name + ".glass");
}

std::string refusal(const std::string& text) {
  return message_of([&] { parse_glass(text, "my.glass"); });
}

bool warns_of(const Glass& glass, const std::string& words) {
  for (const std::string& warning : glass.warnings) {
    if (warning.find(words) != std::string::npos) return true;
  }
  return false;
}

// A value of a file and the same number in SI units differ by the rounding of one product.
constexpr double round_off = 1e-12;

doctest::Approx same(double value) {
  return doctest::Approx(value).epsilon(round_off);
}

}  // namespace

TEST_CASE("three lines make a glass, and every other value is listed as assumed") {
  const Glass glass = parse_glass(minimal, "some/folder/my.glass");
  CHECK(glass.name == "my");
  CHECK(glass.title == "my");
  CHECK(glass.expansion_per_K.value == same(9.0e-6));
  CHECK_FALSE(glass.expansion_per_K.assumed);
  CHECK(glass.expansion_per_K.source == "no source given");
  CHECK(glass.annealing_point.value.in_C() == same((960.0 - 32.0) / 1.8));
  CHECK(glass.strain_point.value.in_C() == same(480.0));
  CHECK_FALSE(glass.softening_point.has_value());
  CHECK(assumed_values(glass) ==
        std::vector<std::string>{
            "liquid expansion: 27e-6 /K (assumed: 3 times the expansion of the solid; published "
            "soda-lime sets have 2.8 to 3.5)",
            "density: 2500 kg/m3 (assumed: typical of soda-lime glass)",
            "Young's modulus: 70 GPa (assumed: typical of soda-lime glass)",
            "Poisson's ratio: 0.22 (assumed: typical of soda-lime glass)",
            "conductivity: 0.741 + 0.000858 T W/(m K) for 150..1300 K (assumed: published law of "
            "soda-lime float glass, 0.975 + 8.58e-4 t with t in C)",
            "heat capacity: 893 + 0.4 T - 1.8e+07 / T^2 J/(kg K) for 150..850 K, then 1433 + "
            "0.0065 T J/(kg K) for 850..1300 K (assumed: published law of soda-lime float glass)",
            "stress-optical coefficient: 2.7 1/TPa (assumed: typical of soda-lime glass)",
            "relaxation: 34.9 s mean shear time at 516 °C (960 °F), activation 57703 K (assumed: "
            "times from the annealing and strain point, spectrum of soda-lime float glass)"});
}

TEST_CASE("the assumed laws are those of the published soda-lime set") {
  // [CARRE99], [NIELSEN10]: k = 0.975 + 8.58e-4 t, t in C; c_p 893 + 0.4 T - 1.8e7/T^2 below 850 K,
  // 1433 + 6.5e-3 T above.
  const Glass glass = parse_glass(minimal, "my.glass");
  constexpr double rounding_of_0_741 = 1e-3;
  for (const double t_C : {0.0, 300.0, 600.0}) {
    CHECK(std::abs(glass.conductivity_W_per_m_K.value.at(t_C + 273.15) - (0.975 + 8.58e-4 * t_C)) <=
          rounding_of_0_741);
  }
  CHECK(glass.heat_capacity_J_per_kg_K.value.at(600.0) == same(893.0 + 240.0 - 50.0));
  CHECK(glass.heat_capacity_J_per_kg_K.value.at(1000.0) == same(1439.5));
}

TEST_CASE("a full file is taken as it stands, sources and all, and nothing is assumed") {
  const Glass glass = parse_glass(
      "title = a glass of my own\nfamily = soda-lime\n"
      "expansion = 9.4 ppm/K [DS-A] p. 2\nliquid_expansion = 28e-6 /K\n"
      "annealing_point = 520 C\nstrain_point = 480 C\nsoftening_point = 700 C [DS-A]\n"
      "density = 2.51 g/cm3\nyoungs_modulus = 71 GPa\npoisson_ratio = 0.23\n"
      "conductivity = 1.0 W/(m K)\n"
      "heat_capacity = 800 J/(kg K) for 20..400 C [A1] x\n"
      "heat_capacity = 900 J/(kg K) for 400..900 C [B2]\n"
      "stress_optical = 2.6 1/TPa\n"
      "activation = 60000 K [A1]\nmean_shear_time = 40 s at 520 C\nactivation_share = 0.45\n"
      "bulk = elastic\n",
      "own.glass");
  CHECK(glass.title == "a glass of my own");
  CHECK(glass.family == GlassFamily::soda_lime);
  CHECK(glass.expansion_per_K.value == same(9.4e-6));
  CHECK(glass.expansion_per_K.source == "[DS-A] p. 2");
  CHECK(glass.liquid_expansion_per_K.value == same(28e-6));
  REQUIRE(glass.softening_point.has_value());
  CHECK(glass.softening_point->source == "[DS-A]");
  CHECK(glass.density_kg_per_m3.value == same(2510.0));
  CHECK(glass.youngs_modulus_Pa.value == same(71e9));
  CHECK(glass.poisson_ratio.value == same(0.23));
  CHECK(glass.heat_capacity_J_per_kg_K.value.at(1000.0) == same(900.0));
  CHECK(glass.heat_capacity_J_per_kg_K.source == "[A1] x; [B2]");
  CHECK(glass.stress_optical_per_Pa.value == same(2.6e-12));
  CHECK(glass.relaxation.activation_K == same(60000.0));
  CHECK(glass.relaxation.mean_shear_time_s == same(40.0));
  CHECK(glass.relaxation.reference_K == same(793.15));
  CHECK(glass.relaxation.x == same(0.45));
  CHECK(glass.relaxation.bulk == Bulk::elastic);
  CHECK(glass.relaxation.source == "[A1]");
  CHECK(assumed_values(glass).empty());
  CHECK(glass.shear_modulus_Pa() == same(71e9 / 2.46));
  CHECK(glass.biaxial_stress_Pa_per_K() == same(71e9 * 9.4e-6 / 0.77));
}

TEST_CASE("every shipped glass loads, meets its points, and names a source for every value") {
  const std::vector<std::string> names = data_names(shipped_folder, "glasses", "glass");
  CHECK(names.size() == 11);
  for (const std::string& name : names) {
    CAPTURE(name);
    const Glass glass = shipped(name);
    CHECK(glass.name == name);
    CHECK(glass.title != name);
    CHECK(glass.family != GlassFamily::unknown);
    constexpr double curve_round_off = 1e-10;
    CHECK(std::abs(glass.viscosity.log10_viscosity_Pa_s(glass.annealing_point.value) - 12.0) <=
          curve_round_off);
    CHECK(std::abs(glass.viscosity.log10_viscosity_Pa_s(glass.strain_point.value) - 13.5) <=
          curve_round_off);
    if (glass.softening_point) {
      CHECK(std::abs(glass.viscosity.log10_viscosity_Pa_s(glass.softening_point->value) - 6.6) <=
            curve_round_off);
      CHECK_FALSE(glass.softening_point->source.empty());
    }
    for (const std::string& source : {glass.expansion_per_K.source,
                                      glass.liquid_expansion_per_K.source,
                                      glass.annealing_point.source,
                                      glass.strain_point.source,
                                      glass.density_kg_per_m3.source,
                                      glass.youngs_modulus_Pa.source,
                                      glass.poisson_ratio.source,
                                      glass.conductivity_W_per_m_K.source,
                                      glass.heat_capacity_J_per_kg_K.source,
                                      glass.stress_optical_per_Pa.source}) {
      CHECK(source != "no source given");
      CHECK_FALSE(source.empty());
    }
  }
}

TEST_CASE("soda-lime float has the numbers printed in EN 572-1") {
  // [EN572]: 2500 kg/m3, 70 GPa, 0.20, 9e-6 /K (20..300 C), 1 W/(m K), 720 J/(kg K).
  const Glass glass = shipped("soda-lime-float");
  CHECK(glass.density_kg_per_m3.value == same(2500.0));
  CHECK(glass.youngs_modulus_Pa.value == same(70e9));
  CHECK(glass.poisson_ratio.value == same(0.20));
  CHECK(glass.expansion_per_K.value == same(9e-6));
  constexpr double printed_without_decimals = 0.5;
  CHECK(std::abs(glass.conductivity_W_per_m_K.value.at(293.15) - 1.0) <= printed_without_decimals);
  // The standard's heat capacity is nominal: the law that is used instead lies above it.
  CHECK(glass.heat_capacity_J_per_kg_K.value.at(293.15) > 720.0);
}

TEST_CASE("borosilicate 3.3 has the numbers printed in ISO 3585") {
  // [ISO3585]: (3.3 +- 0.1)e-6 /K, 2.23 g/cm3, 63 to 64 GPa, 0.20, 1.2 W/(m K), annealing point
  // 560 C, strain point 510 C, softening point 815 to 825 C, 4.0e-6 mm2/N.
  const Glass glass = shipped("borosilicate-3.3");
  CHECK(glass.expansion_per_K.value == same(3.3e-6));
  CHECK(glass.density_kg_per_m3.value == same(2230.0));
  CHECK(glass.youngs_modulus_Pa.value == same(64e9));
  CHECK(glass.poisson_ratio.value == same(0.20));
  CHECK(glass.conductivity_W_per_m_K.value.at(363.15) == same(1.2));
  CHECK(glass.annealing_point.value.in_C() == same(560.0));
  CHECK(glass.strain_point.value.in_C() == same(510.0));
  CHECK(std::abs(glass.softening_point->value.in_C() - 820.0) <= 5.0);
  CHECK(glass.stress_optical_per_Pa.value == same(4.0e-12));
}

TEST_CASE("the fixed points of the published relaxation set follow from the set") {
  // [CARRE99]: reference 869 K, H/R 76 200 K, shear terms whose mean time is 1.000 s and whose sum
  // is 28.69 GPa, so 10^10.458 Pa s at 869 K. The points are rounded to 0.01 C: 0.03 % of the gap.
  const Glass glass = shipped("soda-lime-relaxation-set");
  constexpr double rounding_of_the_points_K = 50.0;
  CHECK(std::abs(glass.viscosity.activation_K() - 76200.0) <= rounding_of_the_points_K);
  constexpr double printed_digit = 1e-3;
  CHECK(std::abs(glass.viscosity.log10_viscosity_Pa_s(Temperature::from_K(869.0)) -
                 std::log10(28.6851e9)) <= printed_digit);
  CHECK(glass.title.find("doubtful") != std::string::npos);
}

TEST_CASE("every bad line of a glass file has its message and its place") {
  const std::vector<std::pair<std::string, std::string>> rows = {
      {"expansion = 90e-6\n",
       "my.glass:4:13: expansion 90 1e-6 /K is outside 0.3..20 1e-6 /K; a power of ten may have "
       "slipped: did you mean 9e-6 /K?"},
      {"expansion = 0.09e-6 /K\n",
       "my.glass:4:13: expansion 0.09 1e-6 /K is outside 0.3..20 1e-6 /K; check the number and its "
       "unit"},
      {"density = 25 kg/m3\n",
       "my.glass:4:11: density 25 kg/m3 is outside 2000..7000 kg/m3; check the number and its "
       "unit"},
      {"youngs_modulus = 70 MPa\n",
       "my.glass:4:18: youngs_modulus 0.07 GPa is outside 30..120 GPa; check the number and its "
       "unit"},
      {"poisson_ratio = 0.5\n",
       "my.glass:4:17: poisson_ratio 0.5 is outside 0.1..0.35; check the number and its unit"},
      {"stress_optical = 27 1/TPa\n",
       "my.glass:4:18: stress_optical 27 1/TPa is outside 0..6 1/TPa; check the number and its "
       "unit"},
      {"softening_point = 1500 C\n",
       "my.glass:4:19: softening_point 1500 C is outside 200..1400 C; check the number and its "
       "unit"},
      {"softening_point = 500 C\n",
       "my.glass:2:19: annealing point 515.56 C is not below softening point 500 C "
       "(my.glass:4:19); compare both with the data sheet; the two are often swapped"},
      {"liquid_expansion = 8e-6 /K\n",
       "my.glass:4:20: liquid_expansion 8e-6 /K is below expansion 9e-6 /K (my.glass:1:13); a melt "
       "expands more than its glass, about 3 times; leave the line out if it is not known"},
      {"liquid_expansion = 200e-6 /K\n",
       "my.glass:4:20: liquid_expansion 200 1e-6 /K is outside 0.3..100 1e-6 /K; check the number "
       "and its unit"},
      {"conductivity = 1000 W/(m K)\n",
       "my.glass:4:16: conductivity 1000 W/(m K) is outside 0.2..5 W/(m K); check the numbers and "
       "the unit"},
      {"heat_capacity = 0.8 J/(kg K)\n",
       "my.glass:4:17: heat_capacity 0.8 J/(kg K) is outside 100..3000 J/(kg K); check the numbers "
       "and the unit"},
      {"family = flint\n",
       "my.glass:4:10: unknown family \"flint\"; known: soda-lime, lead, borosilicate, barium; "
       "leave the line out for others"},
      {"strain_pont = 480 C\n",
       "my.glass:4:1: unknown key strain_pont; did you mean strain_point?"},
      {"colour = blue\n",
       "my.glass:4:1: unknown key colour; known: title, family, expansion, liquid_expansion, "
       "annealing_point, strain_point, softening_point, annealing_point_uncertainty, "
       "strain_point_uncertainty, conductivity_uncertainty, heat_capacity_uncertainty, "
       "expansion_uncertainty, density, "
       "youngs_modulus, poisson_ratio, "
       "conductivity, heat_capacity, stress_optical, radiation_absorption, refractive_index, "
       "activation, mean_shear_time, "
       "activation_share, bulk"},
      {"activation = 60000 K\n",
       "my.glass:4:14: activation and mean_shear_time belong together; give both, or leave both "
       "out: they then follow from the fixed points"},
      {"activation = 900 K\nmean_shear_time = 1 s at 869 K\n",
       "my.glass:4:14: 900 K is outside 20000 to 200000 K; check the number and its unit\n"
       "my.glass:5:19: activation and mean_shear_time belong together; give both, or leave both "
       "out: they then follow from the fixed points"},
      {"mean_shear_time = 1 s\nactivation = 60000 K\n",
       "my.glass:4:19: \"1 s\" does not say at which temperature; write for example 1.000 s at 869 "
       "K\nmy.glass:5:14: activation and mean_shear_time belong together; give both, or leave both "
       "out: they then follow from the fixed points"},
      {"activation_share = 1.5\n",
       "my.glass:4:20: 1.5 is outside 0.2 to 1; check the number and its unit"},
      {"bulk = soft\n",
       "my.glass:4:8: \"soft\" is no treatment of the bulk; write relaxing, elastic or "
       "constant-ratio"},
      {"title = " + std::string(201, 'x') + "\n",
       "my.glass:4:9: a title of over 200 characters; shorten it"}};
  for (const auto& row : rows) {
    const std::string& line = row.first;
    const std::string& message = row.second;
    CAPTURE(line);
    // A line under test for the expansion takes the place of the good one.
    const bool is_expansion = line.find("expansion") == 0;
    CHECK(refusal((is_expansion ? "\nannealing_point = 960 F\nstrain_point = 896 F\n" : minimal) +
                  line) == message);
  }
}

TEST_CASE("a swapped or doubtful pair of points is refused with both places") {
  const std::string expansion = "expansion = 9e-6 /K\n";
  CHECK(refusal(expansion + "annealing_point = 516 C\nstrain_point = 581 C\n") ==
        "my.glass:3:16: strain point 581 C is not below annealing point 516 C (my.glass:2:19); "
        "compare both with the data sheet; the two are often swapped");
  CHECK(refusal(expansion + "annealing_point = 516 C\nstrain_point = 510 C\n") ==
        "my.glass:3:16: strain point 510 C is 6 K below annealing point 516 C (my.glass:2:19), "
        "outside 10..120 K; compare both with the data sheet; most glasses have 30 to 50 K");
  CHECK(refusal(expansion + "annealing_point = 516 C\nstrain_point = 380 C\n")
            .find("my.glass:3:16: strain point 380 C is 136 K below") == 0);
  CHECK(refusal(expansion + "annealing_point = 516 C\nstrain_point = 504 C\n") ==
        "my.glass:3:16: strain point 504 C and annealing point 516 C (my.glass:2:19) give an "
        "activation of 176518 K, outside 20000..150000 K; compare both with the data sheet; most "
        "glasses have 30 to 50 K between them");
}

TEST_CASE("a repeated key is refused, but for the pieces of a law") {
  CHECK(refusal(minimal + "density = 2500 kg/m3\ndensity = 2600 kg/m3\n") ==
        "my.glass:5:1: density is given twice, first at line 4; keep one of them");
  CHECK(refusal(minimal + "conductivity = 1 W/(m K) for 20..300 C\n"
                          "conductivity = 1.2 W/(m K) for 300..900 C\n") == "no error");
  CHECK(refusal(minimal + "conductivity = 1 W/(m K)\nconductivity = 1.2 W/(m K)\n")
            .find("my.glass:4:16: conductivity is given twice") == 0);
}

TEST_CASE("all that is missing and all that is wrong is reported at once") {
  const std::string message = refusal("density = 25 kg/m3\nfoo_bar_baz = 3\nstrain_point = 480\n");
  CHECK(message.find("my.glass: expansion is missing; add a line such as \"expansion = 9.0e-6 "
                     "/K\"") != std::string::npos);
  CHECK(message.find("my.glass: annealing_point is missing; add a line such as \"annealing_point = "
                     "516 C\"") != std::string::npos);
  CHECK(message.find("my.glass: strain_point is missing") == std::string::npos);
  CHECK(message.find("my.glass:1:11: density 25 kg/m3") != std::string::npos);
  CHECK(message.find("my.glass:2:1: unknown key foo_bar_baz") != std::string::npos);
  CHECK(message.find("my.glass:3:16: 480 has no unit") != std::string::npos);
  CHECK(refusal("density = 2500 kg/m3\nexpansion = 9e-6 /K\nannealing_point = 516 C\n") ==
        "my.glass: strain_point is missing; add a line such as \"strain_point = 480 C\"");
}

TEST_CASE("NaN, infinity and bare numbers are no values of a glass") {
  for (const char* value : {"nan", "inf /K", "90", "-9e-6 /K", "1e999 /K", "", "0x9"}) {
    CAPTURE(value);
    const std::string message = refusal(
        "annealing_point = 516 C\nstrain_point = 480 C\nexpansion = " + std::string{value} + "\n");
    CHECK(message.find("my.glass:3:") == 0);
  }
}

TEST_CASE("a glass unlike soda-lime is warned of, by its family or by its numbers") {
  CHECK_FALSE(warns_of(shipped("soda-lime-float"), "stand-in far from home"));
  CHECK_FALSE(warns_of(parse_glass(minimal, "my.glass"), "stand-in far from home"));
  CHECK(warns_of(shipped("lead-crystal-24"),
                 "This is a lead glass: the relaxation data and liquid expansion taken from "
                 "soda-lime glass are a stand-in far from home."));
  CHECK(warns_of(shipped("borosilicate-3.3"), "This is a borosilicate glass"));
  CHECK(warns_of(shipped("barium-zinc-crystal"), "This is a barium glass"));
  CHECK(warns_of(parse_glass("expansion = 3.3e-6 /K\nannealing_point = 560 C\n"
                             "strain_point = 510 C\n",
                             "my.glass"),
                 "relaxation data, liquid expansion, conductivity and heat capacity taken from "
                 "soda-lime glass"));
  CHECK(warns_of(parse_glass(minimal + "density = 3000 kg/m3\n", "my.glass"), "far from home"));
}

TEST_CASE("every glass is told that its fixed points are uncertain by about 10 K") {
  CHECK(warns_of(parse_glass(minimal, "my.glass"), "about 10 °C"));
  CHECK(warns_of(shipped("soda-lime-float"), "about 10 °C"));
}

TEST_CASE("uncertainty of the annealing point: given as a difference, else 10 K and assumed") {
  const Glass plain = parse_glass(minimal, "my.glass");
  CHECK(plain.annealing_point_uncertainty.value.in_K() == 10.0);
  CHECK(plain.annealing_point_uncertainty.assumed);
  for (const char* const line : {"annealing_point_uncertainty = 18 K [sag]\n",
                                 "annealing_point_uncertainty = 18 C [sag]\n",
                                 "annealing_point_uncertainty = 32.4 F [sag]\n"}) {
    CAPTURE(line);
    const Glass glass = parse_glass(minimal + line, "my.glass");
    CHECK(glass.annealing_point_uncertainty.value.in_K() == doctest::Approx(18.0));
    CHECK_FALSE(glass.annealing_point_uncertainty.assumed);
    CHECK(warns_of(glass, "uncertain by 18 °C (32 °F), as the glass file says"));
    CHECK_FALSE(warns_of(glass, "about 10 °C"));
  }
}

TEST_CASE("uncertainty of the annealing point: nonsense is refused with its place") {
  const auto says = [](const char* value) {
    try {
      parse_glass(minimal + "annealing_point_uncertainty = " + value + "\n", "my.glass");
    } catch (const Error& error) {
      return std::string{error.what()};
    }
    return std::string{"accepted"};
  };
  CHECK(says("18").find("18 has no unit; write 18K, 18C or 18F") != std::string::npos);
  CHECK(says("0 K").find("annealing_point_uncertainty 0 K is outside 1..100 K") !=
        std::string::npos);
  CHECK(says("-5 K").find("is outside 1..100 K") != std::string::npos);
  CHECK(says("500 K").find("is outside 1..100 K") != std::string::npos);
  CHECK(says("nan K").find("does not start with a number") != std::string::npos);
}

TEST_CASE("single numbers for heat capacity and conductivity are warned of, laws are not") {
  const Glass nominal =
      parse_glass(minimal + "conductivity = 1 W/(m K)\nheat_capacity = 720 J/(kg K)\n", "my.glass");
  CHECK(warns_of(nominal, "720 J/(kg K) of EN 572-1"));
  CHECK(warns_of(nominal, "Conductivity is one number"));
  CHECK_FALSE(warns_of(shipped("soda-lime-float"), "one number"));
}

TEST_CASE("an expansion ten times too small but within range is warned of") {
  CHECK(warns_of(parse_glass("expansion = 0.9e-6 /K\nannealing_point = 516 C\n"
                             "strain_point = 480 C\n",
                             "my.glass"),
                 "Expansion 0.9e-6 /K is that of silica or a glass ceramic"));
}

TEST_CASE("read_glass reads a file and says where a missing one was looked for") {
  const TemporaryFolder folder;
  const std::string path = folder.file("mine.glass", "\xEF\xBB\xBF" + minimal);
  CHECK(read_glass(path).name == "mine");
  CHECK(message_of([&] { read_glass(folder / "absent.glass"); }).find(folder / "absent.glass") ==
        0);
  CHECK(message_of([&] { read_glass(folder.file("empty.glass", "")); }) != "no error");
  CHECK(message_of([&] { read_glass(folder.file("binary.glass", std::string("\0\1\2", 3))); }) !=
        "no error");
}

TEST_CASE("a glass file cut short or with one byte changed is read or refused, never more") {
  const std::string whole =
      "title = x\nexpansion = 9e-6 /K [A1]\nannealing_point = 516 °C\nstrain_point = 480 C\n"
      "conductivity = table 20 C 1.05, 516 C 1.40 W/(m K)\n"
      "heat_capacity = 893 + 0.4 T - 1.8e7 / T^2 J/(kg K) for 150..850 K\n";
  REQUIRE(refusal(whole) == "no error");
  int refused = 0;
  for (std::size_t length = 0; length < whole.size(); ++length) {
    if (refusal(whole.substr(0, length)) != "no error") ++refused;
  }
  std::uint32_t state = 12345;  // a fixed stream: Knuth's linear congruence
  for (int trial = 0; trial < 3000; ++trial) {
    std::string broken = whole;
    for (int change = 0; change < 1 + trial % 3; ++change) {
      state = state * 1664525u + 1013904223u;
      broken[(state >> 8) % broken.size()] = "T/^.,+-*9e \t=[]#\xC3KfC"[(state >> 3) % 20];
    }
    if (refusal(broken) != "no error") ++refused;
  }
  CHECK(refused > 100);
}

TEST_CASE("radiation inside is added to the conductivity, said, and listed with its index") {
  const Glass plain = parse_glass(minimal, "my.glass");
  const Glass clear = parse_glass(minimal + "radiation_absorption = 2 1/cm [OWN]\n", "my.glass");
  REQUIRE(clear.radiation_inside.has_value());
  CHECK_FALSE(plain.radiation_inside.has_value());
  CHECK(clear.radiation_inside->radiation.absorption_per_m == same(200.0));
  CHECK(clear.radiation_inside->radiation.refractive_index == 1.5);
  CHECK(clear.radiation_inside->source == "[OWN]");
  // By hand at 789.15 K: 16/3 x 1.5^2 x 5.670374419e-8 x 789.15^3 / 200 = 1.672 W/(m K).
  constexpr double share_of_the_cubic = 1.8e-3;
  const double added =
      clear.conductivity_W_per_m_K.value.at(789.15) - plain.conductivity_W_per_m_K.value.at(789.15);
  CHECK(std::abs(added / 1.67202 - 1.0) <= share_of_the_cubic);
  CHECK(warns_of(clear, "Radiation inside counts as conduction: absorption 200 1/m and index 1.5"));
  CHECK(warns_of(clear, "thicker than 50 mm"));
  CHECK_FALSE(warns_of(plain, "Radiation"));
  // The law of conduction is listed as it was, and one line more.
  CHECK(assumed_values(clear).size() == assumed_values(plain).size() + 1);
  bool listed_as_it_was = false, index_listed = false;
  for (const std::string& line : assumed_values(clear)) {
    listed_as_it_was = listed_as_it_was || line.starts_with("conductivity: 0.741 + 0.000858 T W");
    index_listed = index_listed || line.starts_with("refractive index: 1.5 (assumed");
  }
  CHECK(listed_as_it_was);
  CHECK(index_listed);

  const Glass flint =
      parse_glass(minimal + "radiation_absorption = 200 /m\nrefractive_index = 1.8\n", "my.glass");
  CHECK(flint.radiation_inside->radiation.refractive_index == same(1.8));
  CHECK(assumed_values(flint).size() == assumed_values(plain).size());
  // A conductivity that was one number is still said to be one.
  CHECK(
      warns_of(parse_glass(minimal + "conductivity = 1.0 W/(m K)\nradiation_absorption = 200 1/m\n",
                           "a.glass"),
               "Conductivity is one number"));
}

TEST_CASE("radiation inside: what cannot be is refused in a line") {
  const auto of = [](const std::string& line) { return refusal(minimal + line + "\n"); };
  CHECK(of("radiation_absorption = 5 1/m") ==
        "my.glass:4:24: radiation_absorption 5 1/m is outside 10..10000 1/m; "
        "check the number and its unit");
  CHECK(of("radiation_absorption = 200 1/mm").find("outside 10..10000 1/m") != std::string::npos);
  CHECK(of("radiation_absorption = 200").find("1/m") != std::string::npos);
  CHECK(of("radiation_absorption = 200 m").find("my.glass:4:") != std::string::npos);
  CHECK(of("radiation_absorption = nan 1/m").find("my.glass:4:") != std::string::npos);
  CHECK(of("radiation_absorption = 1e999 1/m").find("my.glass:4:") != std::string::npos);
  CHECK(of("radiation_absorption = -200 1/m").find("my.glass:4:") != std::string::npos);
  CHECK(of("radiation_absorption = 200 1/m\nrefractive_index = 0.9")
            .find("refractive_index 0.9 is outside 1.3..2.2") != std::string::npos);
  CHECK(of("refractive_index = 1.5") ==
        "my.glass:4:20: refractive_index is used with radiation_absorption alone; "
        "add a line such as \"radiation_absorption = 200 1/m\", or leave it out");
  CHECK(of("conductivity = 1 W/(m K) for 10..140 K\nradiation_absorption = 200 1/m")
            .find("needs a conductivity known between 150 and 1500 K") != std::string::npos);
}

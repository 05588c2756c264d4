#include "glass/glass_stand_ins.h"

#include <cmath>

#include <fmt/format.h>

#include "units/spoken.h"

namespace thickset::stand_ins {
namespace {

constexpr const char* typical = "typical of soda-lime glass";

// Outside these a glass is hardly soda-lime: the common soda-lime glasses have expansions of 8 to
// 10.5e-6 /K, densities of 2400 to 2650 kg/m3 and annealing points of 480 to 570 C (common
// practice, no source).
constexpr double least_expansion_per_K = 7.5e-6;
constexpr double largest_expansion_per_K = 11.5e-6;
constexpr double largest_density_kg_per_m3 = 2650.0;
constexpr double least_annealing_C = 470.0;
constexpr double largest_annealing_C = 590.0;

// Glasses that expand less than this are fused silica and glass ceramics, whose annealing points
// lie near 1100 C; below 800 C it is more likely a slip of a power of ten.
constexpr double silica_expansion_per_K = 2.0e-6;
constexpr double silica_annealing_C = 800.0;

/// "a lead glass"; empty for a glass that is soda-lime or looks like it.
std::string unlike_soda_lime(const Glass& glass) {
  switch (glass.family) {
    case GlassFamily::soda_lime: return "";
    case GlassFamily::lead: return "a lead glass";
    case GlassFamily::borosilicate: return "a borosilicate glass";
    case GlassFamily::barium: return "a barium glass";
    case GlassFamily::unknown: break;
  }
  const double expansion_per_K = glass.expansion_per_K.value;
  const double annealing_C = glass.annealing_point.value.in_C();
  const bool looks_like_it = expansion_per_K >= least_expansion_per_K &&
                             expansion_per_K <= largest_expansion_per_K &&
                             glass.density_kg_per_m3.value <= largest_density_kg_per_m3 &&
                             annealing_C >= least_annealing_C && annealing_C <= largest_annealing_C;
  return looks_like_it ? "" : "a glass whose numbers are not those of soda-lime";
}

/// What radiation inside adds, and to how thick a piece.
std::string radiation_sentence(const Glass& glass) {
  const RadiationInside& inside = *glass.radiation_inside;
  const double T_K = glass.annealing_point.value.in_K();
  return fmt::format(
      "Radiation inside counts as conduction: absorption {:.4g} 1/m and index {:.3g} add {:.2g} "
      "W/(m K) to {:.2g} at the annealing point. That is an approximation for pieces thicker than "
      "{:.0f} mm; in thinner ones radiation evens out less than it says.",
      inside.radiation.absorption_per_m,
      inside.radiation.refractive_index,
      radiative_conductivity_W_per_m_K(inside.radiation, T_K),
      inside.conduction_alone_W_per_m_K.at(T_K),
      1e3 * optically_thick / inside.radiation.absorption_per_m);
}

std::string joined(const std::vector<std::string>& words) {
  std::string text;
  for (std::size_t i = 0; i < words.size(); ++i) {
    text += i == 0 ? "" : i + 1 == words.size() ? " and " : ", ";
    text += words[i];
  }
  return text;
}

}  // namespace

Property<double> youngs_modulus_Pa() {
  return {70e9, true, typical};
}
Property<double> poisson_ratio() {
  return {0.22, true, typical};
}
Property<double> density_kg_per_m3() {
  return {2500.0, true, typical};
}
Property<double> stress_optical_per_Pa() {
  return {2.7e-12, true, typical};
}

Property<TemperatureDifference> annealing_point_uncertainty() {
  return {TemperatureDifference::from_K(10.0), true, "those of data sheets differ by about this"};
}

Property<double> liquid_expansion_per_K(double expansion_per_K) {
  return {3.0 * expansion_per_K,
          true,
          "3 times the expansion of the solid; published soda-lime sets have 2.8 to 3.5"};
}

Property<ThermalLaw> conductivity_W_per_m_K() {
  return {ThermalLaw{{{.from_K = 150.0, .to_K = 1300.0, .a = 0.741, .b = 8.58e-4}}},
          true,
          "published law of soda-lime float glass, 0.975 + 8.58e-4 t with t in C"};
}

Property<ThermalLaw> heat_capacity_J_per_kg_K() {
  return {ThermalLaw{{{.from_K = 150.0, .to_K = 850.0, .a = 893.0, .b = 0.4, .c = -1.8e7},
                      {.from_K = 850.0, .to_K = 1300.0, .a = 1433.0, .b = 6.5e-3}}},
          true,
          "published law of soda-lime float glass"};
}

RelaxationLaw relaxation(const Glass& glass) {
  RelaxationLaw law;
  law.reference_K = glass.annealing_point.value.in_K();
  law.mean_shear_time_s =
      std::pow(10.0, ViscosityCurve::log10_at_annealing_Pa_s) / glass.shear_modulus_Pa();
  law.activation_K = glass.viscosity.activation_K();
  law.assumed = true;
  law.source = "times from the annealing and strain point, spectrum of soda-lime float glass";
  return law;
}

std::vector<std::string> warnings(const Glass& glass) {
  std::vector<std::string> sentences;
  if (glass.annealing_point_uncertainty.assumed) {
    sentences.emplace_back(
        "Take annealing and strain point as uncertain by about 10 °C (18 °F): those of a data "
        "sheet are not points of equal viscosity (ISO 7884-7); on a certified soda-lime glass the "
        "two are as far apart.");
  } else {
    sentences.push_back(fmt::format(
        "Annealing and strain point are uncertain by {}, as the glass file says. What that "
        "changes shows when both are moved that far: up for the hold, down for where slow cooling "
        "may end.",
        in_both(glass.annealing_point_uncertainty.value)));
  }

  if (const std::string kind = unlike_soda_lime(glass); !kind.empty()) {
    std::vector<std::string> assumed = {"relaxation data"};
    if (glass.liquid_expansion_per_K.assumed) assumed.emplace_back("liquid expansion");
    if (glass.conductivity_W_per_m_K.assumed) assumed.emplace_back("conductivity");
    if (glass.heat_capacity_J_per_kg_K.assumed) assumed.emplace_back("heat capacity");
    sentences.push_back(
        fmt::format("This is {}: the {} taken from soda-lime glass are a stand-in far from home.",
                    kind,
                    joined(assumed)));
  }
  if (glass.family == GlassFamily::borosilicate) {  // [SIM74]
    sentences.emplace_back(
        "Borosilicate glass held for days near its annealing point can part into two phases and "
        "stiffen by powers of ten; that is not in the model: hold no longer than it asks.");
  }
  if (glass.heat_capacity_J_per_kg_K.value.is_constant()) {
    sentences.emplace_back(
        "Heat capacity is one number for all temperatures; that of soda-lime glass rises from 800 "
        "J/(kg K) at 20 °C (68 °F) to 1170 at 500 °C (932 °F), and nominal values such as the 720 "
        "J/(kg K) of EN 572-1 lie below both: too low a value makes cooling look easier than it "
        "is.");
  }
  const ThermalLaw& conducted = glass.radiation_inside
                                    ? glass.radiation_inside->conduction_alone_W_per_m_K
                                    : glass.conductivity_W_per_m_K.value;
  if (conducted.is_constant()) {
    sentences.emplace_back(
        "Conductivity is one number for all temperatures; that of soda-lime glass rises by 40 % "
        "from 20 to 500 °C (68 to 932 °F).");
  }
  if (glass.radiation_inside) sentences.push_back(radiation_sentence(glass));
  if (glass.expansion_per_K.value < silica_expansion_per_K &&
      glass.annealing_point.value.in_C() < silica_annealing_C) {
    sentences.push_back(fmt::format(
        "Expansion {:.3g}e-6 /K is that of silica or a glass ceramic, the annealing point is not: "
        "look for a slip of a power of ten.",
        glass.expansion_per_K.value * 1e6));
  }
  return sentences;
}

}  // namespace thickset::stand_ins

#pragma once

#include "glass/relaxation_law.h"
#include "glass/viscosity_curve.h"
#include "material/inner_radiation.h"
#include "material/thermal_law.h"
#include "units/temperature.h"

#include <optional>
#include <string>
#include <vector>

namespace thickset {

/// A property with what it rests on.
template <class T>
struct Property {
  T value;
  bool assumed = false;  ///< true: a stand-in, not known for this glass
  std::string source;    ///< "[KEY] place" of a given value, or the reason of an assumed one
};

/// Radiation inside a glass whose file gives its absorption.
struct RadiationInside {
  InnerRadiation radiation;
  bool assumed_index = false;
  std::string source;
  ThermalLaw conduction_alone_W_per_m_K;  ///< what the glass conducts without it
};

/// What a glass is made of, as far as it decides whether soda-lime stand-ins are near.
enum class GlassFamily { unknown, soda_lime, lead, borosilicate, barium };

/// How well properties are known, each either way, where the file says so; see
/// sampling/uncertain_input.h for what stands in.
struct GlassUncertainty {
  std::optional<TemperatureDifference> strain_point{};  ///< against the annealing point
  std::optional<double> conductivity{}, heat_capacity{}, expansion{};  ///< shares
};

/// One glass, checked on load: points in order, every number in range.
struct Glass {
  std::string name;   ///< the file's name without folder and extension
  std::string title;  ///< a line for people
  GlassFamily family = GlassFamily::unknown;

  Property<double> expansion_per_K;                             ///< linear, 20..300 C, of the solid
  Property<double> liquid_expansion_per_K;                      ///< linear, above the transition
  Property<Temperature> annealing_point;                        ///< 10^12 Pa s (10^13 poise)
  Property<Temperature> strain_point;                           ///< 10^13.5 Pa s (10^14.5 poise)
  std::optional<Property<Temperature>> softening_point;         ///< 10^6.6 Pa s (10^7.6 poise)
  Property<TemperatureDifference> annealing_point_uncertainty;  ///< either way, strain point too
  GlassUncertainty uncertainty{};
  Property<double> density_kg_per_m3;
  Property<double> youngs_modulus_Pa;
  Property<double> poisson_ratio;
  Property<ThermalLaw> conductivity_W_per_m_K;  ///< with radiation_inside, where that is given
  Property<ThermalLaw> heat_capacity_J_per_kg_K;
  Property<double> stress_optical_per_Pa;
  std::optional<RadiationInside> radiation_inside{};

  ViscosityCurve viscosity;  ///< made from the fixed points
  RelaxationLaw relaxation;  ///< measured, or made from the fixed points

  /// What the user should know about the glass itself, each a sentence.
  std::vector<std::string> warnings;

  /// Shear modulus E / (2 (1 + nu)).
  double shear_modulus_Pa() const {
    return youngs_modulus_Pa.value / (2.0 * (1.0 + poisson_ratio.value));
  }
  /// Conductivity over volumetric heat capacity.
  double diffusivity_m2_per_s(double T_K) const {
    return conductivity_W_per_m_K.value.at(T_K) /
           (density_kg_per_m3.value * heat_capacity_J_per_kg_K.value.at(T_K));
  }
  /// E alpha / (1 - nu): biaxial stress per kelvin of difference.
  double biaxial_stress_Pa_per_K() const {
    return youngs_modulus_Pa.value * expansion_per_K.value / (1.0 - poisson_ratio.value);
  }
};

/// One line for every assumed value: "density: 2500 kg/m3 (assumed: ...)".
std::vector<std::string> assumed_values(const Glass& glass);

}  // namespace thickset

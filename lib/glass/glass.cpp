#include "glass/glass.h"

#include <fmt/format.h>

#include "material/read_thermal_law.h"
#include "units/spoken.h"

namespace thickset {

std::vector<std::string> assumed_values(const Glass& glass) {
  std::vector<std::string> lines;
  const auto add_if_assumed =
      [&lines](const auto& property, const char* name, const std::string& value) {
        if (property.assumed) {
          lines.push_back(fmt::format("{}: {} (assumed: {})", name, value, property.source));
        }
      };
  add_if_assumed(glass.liquid_expansion_per_K,
                 "liquid expansion",
                 fmt::format("{:.3g}e-6 /K", glass.liquid_expansion_per_K.value * 1e6));
  add_if_assumed(glass.density_kg_per_m3,
                 "density",
                 fmt::format("{:.4g} kg/m3", glass.density_kg_per_m3.value));
  add_if_assumed(glass.youngs_modulus_Pa,
                 "Young's modulus",
                 fmt::format("{:.3g} GPa", glass.youngs_modulus_Pa.value * 1e-9));
  add_if_assumed(
      glass.poisson_ratio, "Poisson's ratio", fmt::format("{:.3g}", glass.poisson_ratio.value));
  add_if_assumed(
      glass.conductivity_W_per_m_K,
      "conductivity",
      thermal_law_text(glass.radiation_inside ? glass.radiation_inside->conduction_alone_W_per_m_K
                                              : glass.conductivity_W_per_m_K.value,
                       ThermalQuantity::conductivity));
  add_if_assumed(
      glass.heat_capacity_J_per_kg_K,
      "heat capacity",
      thermal_law_text(glass.heat_capacity_J_per_kg_K.value, ThermalQuantity::heat_capacity));
  add_if_assumed(glass.stress_optical_per_Pa,
                 "stress-optical coefficient",
                 fmt::format("{:.3g} 1/TPa", glass.stress_optical_per_Pa.value * 1e12));
  if (glass.radiation_inside && glass.radiation_inside->assumed_index) {
    lines.push_back(
        fmt::format("refractive index: {:g} (assumed: typical of glass; counts for "
                    "radiation inside alone)",
                    glass.radiation_inside->radiation.refractive_index));
  }
  const RelaxationLaw& law = glass.relaxation;
  if (law.assumed) {
    lines.push_back(
        fmt::format("relaxation: {:.3g} s mean shear time at {}, activation {:.0f} K (assumed: {})",
                    law.mean_shear_time_s,
                    in_both(Temperature::from_K(law.reference_K)),
                    law.activation_K,
                    law.source));
  }
  return lines;
}

}  // namespace thickset

#include <fmt/core.h>

#include "material/thermal_law.h"
#include "units/temperature.h"

int main() {
  const auto hot = thickset::Temperature::from_F(932.0);
  const auto heat_capacity_J_per_kg_K = thickset::ThermalLaw::constant(1000.0);
  fmt::print("{:.0f} C {:.0f} J/(kg K)\n", hot.in_C(), heat_capacity_J_per_kg_K.at(hot.in_K()));
}

#pragma once

#include "glass/glass.h"

#include <string>
#include <vector>

/// What stands in for properties a .glass file does not give, and what to say about it.
namespace thickset::stand_ins {

/// 70 GPa, 0.22, 2500 kg/m3, 2.7 1/TPa: typical of soda-lime glass.
Property<double> youngs_modulus_Pa();
Property<double> poisson_ratio();
Property<double> density_kg_per_m3();
Property<double> stress_optical_per_Pa();

/// 10 K: data sheets give annealing points that differ by this much from certified ones of like
/// glass; see notes/sources.md, ISO 7884-7 and SRM 710.
Property<TemperatureDifference> annealing_point_uncertainty();

/// Three times the expansion of the solid.
Property<double> liquid_expansion_per_K(double expansion_per_K);

/// The published laws of soda-lime float glass.
/// Source: [CARRE99], [NIELSEN10]: k = 0.975 + 8.58e-4 t with t in C, which is 0.741 + 8.58e-4 T;
///         c_p = 893 + 0.4 T - 1.8e7/T^2 below 850 K, 1433 + 6.5e-3 T above. No range is printed:
///         150..1300 K is ours, from where c_p is still positive to where the glass is a melt.
Property<ThermalLaw> conductivity_W_per_m_K();
Property<ThermalLaw> heat_capacity_J_per_kg_K();

/// The published soda-lime spectrum on the clock of this glass's fixed points: viscosity over shear
/// modulus is the mean shear time at the annealing point, the slope between the two points the
/// activation. Source: [ASTM-C336] for the viscosities of the points; notes/relaxation.md.
RelaxationLaw relaxation(const Glass& glass);

/// Sentences on what is doubtful in this glass: its fixed points, and stand-ins far from home.
std::vector<std::string> warnings(const Glass& glass);

}  // namespace thickset::stand_ins

#pragma once

/// The permanent stress by closed form: the classical formula and what structural relaxation adds.
namespace thickset::stress {

/// Permanent tension at the mid-plane of a slab cooled through the transition at a steady rate:
/// half the elastic surface stress of that rate, E alpha/(1-nu) R L^2 / (6 kappa).
/// Source: [ADW20]; [GN70]. Too small by structural_factor.
constexpr double classical_midplane_Pa(double biaxial_Pa_per_K,
                                       double rate_K_per_s,
                                       double half_thickness_m,
                                       double diffusivity_m2_per_s) {
  return biaxial_Pa_per_K * rate_K_per_s * half_thickness_m * half_thickness_m /
         (6.0 * diffusivity_m2_per_s);
}

/// What the classical formula is multiplied by: 1 + 0.33 (alpha_liquid/alpha_glass - 1).
/// Slow limit of one constant rate, relaxing bulk; computed, not published: notes/stress.md. Gardon
/// and Narayanaswamy [GN70] state that structure makes about 40 % of the stress, which is 1.67.
constexpr double structural_factor(double liquid_expansion_per_K, double glass_expansion_per_K) {
  return 1.0 + 0.33 * (liquid_expansion_per_K / glass_expansion_per_K - 1.0);
}

/// Surface tension of an elastic slab in steady cooling, E alpha/(1-nu) R L^2 / (3 kappa), solved
/// for the rate. Source: [BW60]; notes/stress.md.
constexpr double rate_of_surface_tension_K_per_s(double tension_Pa,
                                                 double biaxial_Pa_per_K,
                                                 double half_thickness_m,
                                                 double diffusivity_m2_per_s) {
  return 3.0 * diffusivity_m2_per_s * tension_Pa /
         (biaxial_Pa_per_K * half_thickness_m * half_thickness_m);
}

/// The permanent stress is set between the annealing point and this far below the strain point; the
/// largest rate in that window counts. Computed, not published:
/// notes/stress.md#where-stress-is-set.
inline constexpr double setting_below_strain_K = 100.0;

}  // namespace thickset::stress

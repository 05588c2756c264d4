#pragma once

#include <array>

/// The two workloads of the speed bench as plain data, in SI. Nothing here is of the library, so
/// that the reference solutions share nothing with it but these numbers.
namespace thickset::bench {

/// A 75 mm slab of soda-lime glass, cooled from both faces through a whole firing's tail.
/// Conductivity and heat capacity as published in [CARRE99] and [NIELSEN10].
struct Slab {
  double half_thickness_m = 0.0375;
  double density_kg_per_m3 = 2530.0;
  double conductivity_W_per_m_K = 0.741;  ///< at 0 K; + slope T
  double conductivity_slope_W_per_m_K2 = 8.58e-4;
  double capacity_jumps_at_K = 850.0;
  double cool_a = 893.0, cool_b = 0.4, cool_c = -1.8e7;  ///< a + b T + c/T^2 below, J/(kg K)
  double hot_a = 1433.0, hot_b = 6.5e-3;                 ///< a + b T above
  double film_W_per_m2_K = 8.0;
  double emissivity = 0.9;
  double start_K = 1073.15;
};

/// The kiln's course: straight lines between corners.
struct Corner {
  double time_s;
  double kiln_K;
};
inline constexpr std::size_t stretches = 6;

inline std::array<Corner, stretches + 1> course() {
  std::array<Corner, stretches + 1> corners{};
  double time_s = 0.0;
  std::size_t next = 0;
  const auto corner = [&](double after_h, double to_C) {
    time_s += 3600.0 * after_h;
    corners[next++] = {time_s, to_C + 273.15};
  };
  corner(0.0, 800.0);
  corner(1.0, 545.0);
  corner(6.0, 545.0);
  corner((545.0 - 452.0) / 4.0, 452.0);
  corner((452.0 - 361.0) / 9.0, 361.0);
  corner((361.0 - 25.0) / 25.0, 25.0);
  corner(40.0, 25.0);
  return corners;
}

/// Structure and stress of the same slab: the published series of [CARRE99] at 869 K, on the
/// reduced time of [NARA71]; constant Poisson ratio, no net force, in equilibrium and free of
/// stress at first.
struct Relaxation {
  static constexpr std::size_t terms = 6;
  using Terms = std::array<double, terms>;

  double reference_K = 869.0;
  double activation_K = 76200.0;  ///< H/R
  double x = 0.5;
  Terms structure_weight = {5.523e-2, 8.205e-2, 1.215e-1, 2.286e-1, 2.860e-1, 2.265e-1};
  Terms structure_s = {5.965e-4, 1.077e-2, 1.362e-1, 1.505, 6.747, 29.63};
  Terms shear_weight_GPa = {1.5845, 2.3539, 3.4857, 6.5582, 8.2049, 6.4980};
  Terms shear_s = {6.658e-5, 1.197e-3, 1.514e-2, 1.672e-1, 7.497e-1, 3.292};
  double youngs_modulus_Pa = 70e9;
  double poisson_ratio = 0.22;
  double expansion_per_K = 9.1e-6;
  double liquid_expansion_per_K = 25.1e-6;
  double nm_per_cm_per_Pa = 27e-6;  ///< stress-optical coefficient 2.7 1/TPa
};

/// W1: the largest |T(centre) - T(surface)| in each stretch of the course.
using SixPeaks = std::array<double, stretches>;

// Computed, not published: independent stiff solver, converged in space and time.
inline constexpr SixPeaks converged_peaks_K =
    {86.99894, 87.00568, 1.65732, 3.75289, 10.08982, 9.48017};
inline constexpr double goal_W1_K = 0.01;

// W2: the permanent retardation at mid-plane. Computed, not published: implicit
// differential-algebraic solver and a second independent code.
inline constexpr double converged_retardation_nm_per_cm = 21.6545;
inline constexpr double goal_W2_nm_per_cm = 0.02;

}  // namespace thickset::bench

#pragma once

#include <array>
#include <cstddef>
#include <vector>

/// The equations of the nodes written again from notes/conduction.md, apart from the library, and
/// integrated by a general-purpose stiff integrator: Rosenbrock's method of fourth order in
/// Boost.Odeint. Its matrices (Boost.uBLAS 1.74) need C++17, so this is compiled on its own.
namespace reference_integrator {

// Soda-lime glass below the jump of its heat capacity: k = k_a + k_b T, c = c_a + c_b T + c_c/T^2.
inline constexpr double radius_m = 0.04;
inline constexpr double k_a = 0.741, k_b = 8.58e-4;
inline constexpr double c_a = 893.0, c_b = 0.4, c_c = -1.8e7;
inline constexpr double density_kg_per_m3 = 2530.0;
inline constexpr double film_W_per_m2_K = 8.0, emissivity = 0.9;
inline constexpr double start_K = 830.0;

struct Corner {
  double time_s, T_K;
};
/// Cooling, a hold, faster cooling and a jump: the kiln is opened at the end.
inline constexpr std::array<Corner, 6> kiln = {Corner{0.0, 830.0},
                                               Corner{3600.0, 700.0},
                                               Corner{7200.0, 700.0},
                                               Corner{14400.0, 500.0},
                                               Corner{14400.0, 300.0},
                                               Corner{20000.0, 300.0}};

/// Temperatures of n nodes at the ends of the kiln's stretches; power 0, 1, 2 for slab, cylinder,
/// sphere; tolerance absolute in K and relative.
std::vector<std::vector<double>> integrated(int power, std::size_t n, double tolerance);

/// The largest difference between the Jacobian and central differences of the right side, over the
/// largest entry: shows that the two belong together.
double jacobian_error(int power, std::size_t n);

}  // namespace reference_integrator

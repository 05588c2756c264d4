#pragma once

#include <cstddef>

#include "bench/workload.h"

namespace thickset::bench {

/// The slab cut at evenly spaced nodes, half cells at its two ends: the grid of our solver, written
/// anew for the reference as dT/dt = heat into the cell / (its mass c(T)). Node 0 is the mid-plane.
class ReferenceSlab {
 public:
  ReferenceSlab(const Slab& slab, std::size_t nodes)
      : slab_{slab},
        nodes_{nodes},
        spacing_m_{slab.half_thickness_m / static_cast<double>(nodes - 1)} {}

  std::size_t nodes() const { return nodes_; }
  double start_K() const { return slab_.start_K; }

  /// Mass times heat capacity of a cell, J/(m2 K), and its derivative by temperature.
  struct Capacity {
    double value;
    double slope;
  };
  Capacity capacity(std::size_t node, double T_K) const {
    const bool end = node == 0 || node + 1 == nodes_;
    const double mass_kg_per_m2 = slab_.density_kg_per_m3 * spacing_m_ * (end ? 0.5 : 1.0);
    if (T_K >= slab_.capacity_jumps_at_K) {
      return {mass_kg_per_m2 * (slab_.hot_a + slab_.hot_b * T_K), mass_kg_per_m2 * slab_.hot_b};
    }
    const double by_square = slab_.cool_c / (T_K * T_K);
    return {mass_kg_per_m2 * (slab_.cool_a + slab_.cool_b * T_K + by_square),
            mass_kg_per_m2 * (slab_.cool_b - 2.0 * by_square / T_K)};
  }

  /// Heat into every cell, W/m2: differences of the integral of the conductivity, and the exchange
  /// with the kiln at the surface.
  void heat_in(const double* T_K, double kiln_K, double* heat) const {
    heat[0] = 0.0;
    double left = integral(T_K[0]);
    for (std::size_t i = 0; i + 1 < nodes_; ++i) {
      const double right = integral(T_K[i + 1]);
      const double inward = (right - left) / spacing_m_;
      heat[i] += inward;
      heat[i + 1] = -inward;
      left = right;
    }
    const double surface_K = T_K[nodes_ - 1];
    heat[nodes_ - 1] += slab_.film_W_per_m2_K * (kiln_K - surface_K) +
                        radiation * slab_.emissivity * (fourth(kiln_K) - fourth(surface_K));
  }

  /// Derivative of heat into a cell by the temperature of a neighbour, W/(m2 K).
  double from_neighbour(double neighbour_K) const { return conductivity(neighbour_K) / spacing_m_; }

  /// And by its own temperature.
  double from_itself(std::size_t node, double T_K) const {
    const bool end = node == 0 || node + 1 == nodes_;
    double slope = -(end ? 1.0 : 2.0) * conductivity(T_K) / spacing_m_;
    if (node + 1 == nodes_) {
      slope -= slab_.film_W_per_m2_K + 4.0 * radiation * slab_.emissivity * T_K * T_K * T_K;
    }
    return slope;
  }

 private:
  static constexpr double radiation = 5.670374419e-8;  // W/(m2 K4), [CODATA18]

  static double fourth(double value) { return value * value * value * value; }
  double conductivity(double T_K) const {
    return slab_.conductivity_W_per_m_K + slab_.conductivity_slope_W_per_m_K2 * T_K;
  }
  double integral(double T_K) const {
    return (slab_.conductivity_W_per_m_K + 0.5 * slab_.conductivity_slope_W_per_m_K2 * T_K) * T_K;
  }

  Slab slab_;
  std::size_t nodes_;
  double spacing_m_;
};

/// The kiln's temperature on one stretch of the course.
struct KilnLine {
  Corner from, to;
  double at_K(double time_s) const {
    return from.kiln_K +
           (to.kiln_K - from.kiln_K) * ((time_s - from.time_s) / (to.time_s - from.time_s));
  }
};

}  // namespace thickset::bench

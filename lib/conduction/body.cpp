#include "conduction/body.h"

#include <cassert>
#include <cmath>
#include <utility>

namespace thickset::conduction {
namespace {

int power_of_area(Solid solid) {
  switch (solid) {
    case Solid::slab: return 0;
    case Solid::cylinder: return 1;
    case Solid::sphere: return 2;
  }
  return 0;
}

/// Weights w with sum_i w_i f(x_i) = integral of f(x) (x/R)^p dx over 0..R, f even about 0 for p >
/// 0, exact for parabolas: on each pair of intervals f is the parabola through its three nodes
/// (Simpson's rule where p = 0); an odd interval at the inside uses the first three nodes.
Eigen::ArrayXd parabola_weights(const Eigen::ArrayXd& x, int p) {
  const Eigen::Index n = x.size();
  const double R = x(n - 1);
  Eigen::ArrayXd weight = Eigen::ArrayXd::Zero(n);
  const auto moment = [&](double from, double to, int k) {
    const double m = p + k + 1;
    return (std::pow(to, m) - std::pow(from, m)) / (m * std::pow(R, p));
  };
  // Adds the integral over from..to of the parabola through nodes i, i+1, i+2.
  const auto add = [&](Eigen::Index i, double from, double to) {
    const double m0 = moment(from, to, 0);
    const double m1 = moment(from, to, 1);
    const double m2 = moment(from, to, 2);
    for (Eigen::Index j = 0; j < 3; ++j) {
      const double xj = x(i + j);
      const double u = x(i + (j + 1) % 3);
      const double v = x(i + (j + 2) % 3);
      weight(i + j) += (m2 - (u + v) * m1 + u * v * m0) / ((xj - u) * (xj - v));
    }
  };
  Eigen::Index i = 0;
  if (n % 2 == 0) {  // an odd number of intervals
    add(0, x(0), x(1));
    i = 1;
  }
  for (; i + 2 < n; i += 2) add(i, x(i), x(i + 2));
  return weight;
}

}  // namespace

Body::Body(Solid solid,
           double extent_m,
           Eigen::Index nodes,
           ThermalLaw conductivity_W_per_m_K,
           ThermalLaw heat_capacity_J_per_kg_K,
           double density_kg_per_m3)
    : solid_{solid},
      position_m_{Eigen::ArrayXd::LinSpaced(nodes, 0.0, extent_m)},
      volume_m_{nodes},
      area_by_spacing_per_m_{nodes - 1},
      conductivity_{std::move(conductivity_W_per_m_K)},
      heat_capacity_{std::move(heat_capacity_J_per_kg_K)},
      density_{density_kg_per_m3} {
  assert(nodes >= 3 && extent_m > 0.0 && density_kg_per_m3 > 0.0);
  const int p = power_of_area(solid);
  const double spacing_m = extent_m / static_cast<double>(nodes - 1);
  const auto volume_inside_m = [&](double r_m) {
    return std::pow(r_m / extent_m, p) * r_m / (p + 1);
  };
  double inside_m = 0.0;
  for (Eigen::Index i = 0; i < nodes; ++i) {
    const bool last = i + 1 == nodes;
    const double outer_m = last ? extent_m : position_m_(i) + 0.5 * spacing_m;
    volume_m_(i) = volume_inside_m(outer_m) - inside_m;
    inside_m = volume_inside_m(outer_m);
    if (!last) area_by_spacing_per_m_(i) = std::pow(outer_m / extent_m, p) / spacing_m;
  }
  mean_weight_ = parabola_weights(position_m_, p) * ((p + 1) / extent_m);
}

}  // namespace thickset::conduction

#include "conduction/body.h"

#include <cassert>
#include <cmath>
#include <utility>

#include "conduction/covering.h"

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
      area_by_spacing_per_m_{nodes - 1} {
  assert(nodes >= 3 && extent_m > 0.0 && density_kg_per_m3 > 0.0);
  regions_.push_back({.first = 0,
                      .count = nodes,
                      .conductivity_W_per_m_K = std::move(conductivity_W_per_m_K),
                      .heat_capacity_J_per_kg_K = std::move(heat_capacity_J_per_kg_K),
                      .density_kg_per_m3 = density_kg_per_m3});
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

Body::Body(const Body& glass, const Wall& inner, const Wall& outer, const AreaOutward& area)
    : solid_{glass.solid_} {
  assert(glass.regions_.size() == 1 && (inner.layers.empty() || solid_ == Solid::slab));
  const Eigen::Index n = glass.nodes();
  const double spacing_m = glass.extent_m() / static_cast<double>(n - 1);
  const Covering inside{inner, {.at_glass = area.at_glass}, spacing_m};
  const Covering outside{outer, area, spacing_m};
  const Eigen::Index first = inside.nodes();
  const Eigen::Index total = first + n + outside.nodes();
  position_m_.resize(total);
  volume_m_.resize(total);
  mean_weight_.setZero(total);
  area_by_spacing_per_m_.setZero(total - 1);
  position_m_.segment(first, n) = glass.position_m_;
  volume_m_.segment(first, n) = glass.volume_m_;
  mean_weight_.segment(first, n) = glass.mean_weight_;
  area_by_spacing_per_m_.segment(first, n - 1) = glass.area_by_spacing_per_m_;
  outer_area_ = outer.layers.empty() ? 1.0 : area.at(outer.thickness().in_m());

  // Regions from the inside outwards; those of the inner wall are numbered the other way.
  const auto region_of_layer = [](const Covering::Part& part, Eigen::Index first_node) {
    return Region{.first = first_node,
                  .count = part.count,
                  .conductivity_W_per_m_K = part.material->conductivity_W_per_m_K,
                  .heat_capacity_J_per_kg_K = part.material->heat_capacity_J_per_kg_K,
                  .density_kg_per_m3 = part.material->density_kg_per_m3};
  };
  for (std::size_t i = inside.parts().size(); i-- > 0;) {
    const Covering::Part& part = inside.parts()[i];
    regions_.push_back(region_of_layer(part, first - part.first - part.count));
  }
  glass_ = regions_.size();
  regions_.push_back(glass.regions_.front());
  regions_.back().first = first;
  for (const Covering::Part& part : outside.parts()) {
    regions_.push_back(region_of_layer(part, first + n + part.first));
  }
  for (Eigen::Index i = 0; i < inside.nodes(); ++i) {
    const Eigen::Index node = first - 1 - i;
    position_m_(node) = -inside.distance_m()[static_cast<std::size_t>(i)];
    volume_m_(node) = inside.volume_m()[static_cast<std::size_t>(i)];
    area_by_spacing_per_m_(node) = inside.area_by_spacing_per_m()[static_cast<std::size_t>(i)];
  }
  for (Eigen::Index i = 0; i < outside.nodes(); ++i) {
    const Eigen::Index node = first + n + i;
    position_m_(node) = glass.extent_m() + outside.distance_m()[static_cast<std::size_t>(i)];
    volume_m_(node) = outside.volume_m()[static_cast<std::size_t>(i)];
    area_by_spacing_per_m_(node - 1) = outside.area_by_spacing_per_m()[static_cast<std::size_t>(i)];
  }
  for (std::size_t i = inside.parts().size(); i-- > 0;) {
    const Covering::Part& part = inside.parts()[i];
    joints_.push_back({.left = first - 1 - part.first,
                       .area = part.area,
                       .left_half_m = part.outer_half_m,
                       .right_half_m = part.inner_half_m,
                       .resistance_m2_K_per_W = part.resistance_m2_K_per_W,
                       .air_m = part.air_m,
                       .left_region = glass_ - 1 - i,
                       .right_region = glass_ - i});
  }
  for (std::size_t i = 0; i < outside.parts().size(); ++i) {
    const Covering::Part& part = outside.parts()[i];
    joints_.push_back({.left = first + n + part.first - 1,
                       .area = part.area,
                       .left_half_m = part.inner_half_m,
                       .right_half_m = part.outer_half_m,
                       .resistance_m2_K_per_W = part.resistance_m2_K_per_W,
                       .air_m = part.air_m,
                       .left_region = glass_ + i,
                       .right_region = glass_ + i + 1});
  }
}

const Body::Region& Body::region_of(Eigen::Index node) const {
  for (const Region& region : regions_) {
    if (node < region.first + region.count) return region;
  }
  return regions_.back();
}

}  // namespace thickset::conduction

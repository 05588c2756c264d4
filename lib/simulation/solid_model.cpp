#include "simulation/solid_model.h"

#include <cmath>
#include <variant>

#include "geometry/area_growth.h"
#include "geometry/equivalent_slab.h"
#include "simulation/steady_cooling.h"
#include "stress/surface_tension.h"

namespace thickset {
namespace {

Length slab_for(const EquivalentSlabs& equivalents, Respect respect) {
  switch (respect) {
    case Respect::steady_difference: return equivalents.steady_difference;
    case Respect::slowest_mode: return equivalents.slowest_mode;
    case Respect::permanent_tension: return equivalents.permanent_tension;
  }
  return equivalents.steady_difference;
}

int default_nodes(bool half_a_slab) {
  return half_a_slab ? nodes_of_half_a_slab : nodes_of_other_solids;
}

}  // namespace

SolidModel::Solid SolidModel::solid_of(const Shape& shape, Respect respect) {
  if (const auto* rod = std::get_if<Rod>(&shape)) {
    return {.kind = conduction::Solid::cylinder, .extent_m = 0.5 * rod->diameter.in_m()};
  }
  if (const auto* ball = std::get_if<Ball>(&shape)) {
    return {.kind = conduction::Solid::sphere, .extent_m = 0.5 * ball->diameter.in_m()};
  }
  if (const auto* slab = std::get_if<Slab>(&shape)) {
    const double thickness_m = slab->thickness.in_m();
    if (slab->faces == Faces::both)
      return {.kind = conduction::Solid::slab, .extent_m = 0.5 * thickness_m};
    return {
        .kind = conduction::Solid::slab,
        .extent_m = thickness_m,
        .support = slab->faces == Faces::one_held ? stress::Support::held : stress::Support::free,
        .symmetric = false};
  }
  const EquivalentSlabs equivalents = equivalent_slabs(shape);
  const double half_m = 0.5 * slab_for(equivalents, respect).in_m();
  return {.kind = conduction::Solid::slab,
          .extent_m = half_m,
          .exchange_factor = half_m / volume_to_surface(shape).in_m(),
          .surface_tension_factor = stress::surface_tension_factor(shape)};
}

SolidModel::Solid SolidModel::solid_of(const Casting& casting, Respect respect) {
  const Shape shape = casting.governing_shape();
  if (!casting.walls || casting.walls->alike()) return solid_of(shape, respect);
  return {.kind = conduction::Solid::slab,
          .extent_m = std::get<Slab>(shape).thickness.in_m(),
          .support = casting.walls->held ? stress::Support::held : stress::Support::free,
          .symmetric = false};
}

SolidModel::SolidModel(const Casting& casting,
                       const Kiln& kiln,
                       Respect respect,
                       std::optional<int> nodes)
    : solid_{solid_of(casting, respect)},
      glass_{
          solid_.kind,
          solid_.extent_m,
          nodes.value_or(default_nodes(solid_.kind == conduction::Solid::slab && solid_.symmetric)),
          casting.glass.conductivity_W_per_m_K.value,
          casting.glass.heat_capacity_J_per_kg_K.value,
          casting.glass.density_kg_per_m3.value},
      outer_{conduction::Face::exchange(kiln.film_coefficient_W_per_m2_K, kiln.emissivity)},
      law_{casting.glass.relaxation},
      constants_{.shear_modulus_Pa = casting.glass.shear_modulus_Pa(),
                 .poisson_ratio = casting.glass.poisson_ratio.value,
                 .expansion_per_K = casting.glass.expansion_per_K.value,
                 .liquid_expansion_per_K = casting.glass.liquid_expansion_per_K.value} {
  outer_.exchange_factor = solid_.exchange_factor;
  if (casting.walls) cover(casting, kiln);
}

void SolidModel::cover(const Casting& casting, const Kiln& kiln) {
  const Walls& walls = *casting.walls;
  if (walls.alike()) {
    if (walls.top.layers.empty()) return;  // open all round
    const AreaGrowth growth = area_growth(casting.governing_shape());
    const double factor = solid_.exchange_factor;
    covered_.emplace(
        glass_,
        Wall{},
        walls.top,
        conduction::AreaOutward{
            .at_glass = factor, .per_m = factor * growth.per_m, .per_m2 = factor * growth.per_m2});
    outer_.exchange_factor = covered_->outer_area();
    return;
  }
  const SteadyCooling steady =
      steady_cooling(casting, Exchange::with(kiln), casting.glass.strain_point.value);
  const Wall& better = steady.top_cools_better ? walls.top : walls.bottom;
  const Wall& other = steady.top_cools_better ? walls.bottom : walls.top;
  covered_.emplace(glass_, other, better);
  inner_ = other.insulated ? conduction::Face::insulated() : outer_;
  const double spacing_m = glass_.extent_m() / static_cast<double>(glass_.nodes() - 1);
  slowest_ = static_cast<Eigen::Index>(std::lround(steady.slowest_from_other_m / spacing_m));
}

stress::RelaxingBody SolidModel::relaxing_body(Bulk bulk,
                                               const Eigen::ArrayXd& T_K,
                                               const stress::RelaxationSettings& settings) const {
  RelaxationLaw law = law_;
  law.bulk = bulk;
  return {glass_, law, constants_, solid_.support, solid_.symmetric, T_K, settings};
}

}  // namespace thickset

#include "simulation/solid_model.h"

#include <variant>

#include "geometry/equivalent_slab.h"
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

SolidModel::SolidModel(const Casting& casting,
                       const Kiln& kiln,
                       Respect respect,
                       std::optional<int> nodes)
    : solid_{solid_of(casting.governing_shape(), respect)},
      body_{
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
}

stress::RelaxingBody SolidModel::relaxing_body(Bulk bulk,
                                               const Eigen::ArrayXd& T_K,
                                               const stress::RelaxationSettings& settings) const {
  RelaxationLaw law = law_;
  law.bulk = bulk;
  return {body_, law, constants_, solid_.support, solid_.symmetric, T_K, settings};
}

}  // namespace thickset

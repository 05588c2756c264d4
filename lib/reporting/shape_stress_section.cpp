#include "reporting/shape_stress_section.h"

#include <cmath>

#include <fmt/format.h>

#include "geometry/centre_tension.h"
#include "geometry/equivalent_slab.h"
#include "stress/surface_tension.h"

namespace thickset {
namespace {

bool solved_as_it_is(const Shape& shape) {
  return std::holds_alternative<Slab>(shape) || std::holds_alternative<Rod>(shape) ||
         std::holds_alternative<Ball>(shape);
}

std::string surface(double factor) {
  return wrapped(fmt::format(
      "- While cooling its surface counts {:.2f} times that of the slab of the same difference: "
      "the most it pulls over that slab at any moment, by three-dimensional elasticity. That is "
      "just after a rate is new, when a solid is ahead of its slab; where one rate lasts it is up "
      "to a seventh less, so long stages have that much in hand.",
      factor));
}

/// How the centre tension compares with that of simple bodies of the same difference; thickness
/// goes with the root of the stress. Source: notes/stress.md#bounds-and-the-factor-used.
std::string centre(const EquivalentSlabs& slabs, const Display& display) {
  constexpr double ball = 1.2;  // times the slab's stress
  constexpr double rod = 1.5;
  const double slab_m = slabs.steady_difference.in_m();
  return wrapped(fmt::format(
      "- For nm/cm: the slab of {} keeps as much as this shape does, by three-dimensional "
      "elasticity. By the slab of the same core to surface difference it would be one of {}, by "
      "the "
      "ball of that difference {}, by the long rod {}: simple bodies, no bounds; bars and prisms "
      "pass the rod's.",
      show(slabs.permanent_tension, display),
      show(slabs.steady_difference, display),
      show(Length::from_m(std::sqrt(ball) * slab_m), display),
      show(Length::from_m(std::sqrt(rod) * slab_m), display)));
}

std::string factor_on_centre(const Casting& casting) {
  if (casting.solid) {
    return wrapped(fmt::format(
        "- Safety factor on that stress: {:.2f}, twice what it changes by between two grids, which "
        "is above its error wherever that is known; the largest place is taken.",
        std::pow(1.0 + casting.solid->uncertainty.permanent_tension, 2)));
  }
  const Shape shape = casting.governing_shape();
  double factor = 1.0;
  if (const auto* block = std::get_if<Block>(&shape)) {
    const double centre_m =
        centre_tension::block_slab_m(block->a.in_m(), block->b.in_m(), block->c.in_m());
    factor = std::pow(equivalent_slabs(shape).permanent_tension.in_m() / centre_m, 2);
  }
  if (factor > 1.0) {
    return wrapped(
        fmt::format("- Safety factor on the stress of the centre: {:.2f}, since in a "
                    "plate this wide the largest tension is near the corners.",
                    factor));
  }
  return wrapped(
      "- Safety factor on that stress: 1.00. It is the solution for this shape, within 1 %; what "
      "is doubtful is how the glass relaxes, and a plan passes under all three treatments.");
}

}  // namespace

std::string surface_factor_line(const Casting& casting) {
  const Shape shape = casting.governing_shape();
  const double factor = stress::surface_tension_factor(shape);
  if (factor == 1.0) return {};
  return fmt::format("    its surface counted at {:.2f} times that of the slab for it\n", factor);
}

std::string shape_stress_section(const ReportContext& context) {
  const Shape shape = context.casting.governing_shape();
  if (solved_as_it_is(shape)) return {};
  std::string text = "\nWhat stands behind the stress of this shape:\n";
  text += centre(equivalent_slabs(shape), context.display) + '\n';
  text += factor_on_centre(context.casting) + '\n';
  text += surface(stress::surface_tension_factor(shape)) + '\n';
  return text;
}

}  // namespace thickset

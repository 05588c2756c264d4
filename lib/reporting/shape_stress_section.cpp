#include "reporting/shape_stress_section.h"

#include <fmt/format.h>

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
  text += surface(stress::surface_tension_factor(shape)) + '\n';
  return text;
}

}  // namespace thickset

#include "geometry/shape.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include <fmt/format.h>

namespace thickset {
namespace {

Length largest_ball_in(const Slab& slab) {
  return slab.thickness;
}
Length largest_ball_in(const Rod& rod) {
  return rod.diameter;
}
Length largest_ball_in(const Ball& ball) {
  return ball.diameter;
}
Length largest_ball_in(const Block& block) {
  return std::min({block.a, block.b, block.c});
}
Length largest_ball_in(const Disc& disc) {
  return std::min(disc.diameter, disc.height);
}
Length largest_ball_in(const Bar& bar) {
  return std::min(bar.a, bar.b);
}
Length largest_ball_in(const Prism& prism) {
  return Length::from_m(prism.side.in_m() / std::numbers::sqrt3);
}
Length largest_ball_in(const Tube& tube) {
  return tube.wall;
}
Length largest_ball_in(const Gridded& solid) {
  return solid.ball;
}

double volume_to_surface_m(const Slab& slab) {
  return slab.thickness.in_m() / (slab.faces == Faces::both ? 2.0 : 1.0);
}
double volume_to_surface_m(const Rod& rod) {
  return rod.diameter.in_m() / 4.0;
}
double volume_to_surface_m(const Ball& ball) {
  return ball.diameter.in_m() / 6.0;
}
double volume_to_surface_m(const Block& block) {
  return 0.5 / (1.0 / block.a.in_m() + 1.0 / block.b.in_m() + 1.0 / block.c.in_m());
}
double volume_to_surface_m(const Disc& disc) {
  return 1.0 / (4.0 / disc.diameter.in_m() + 2.0 / disc.height.in_m());
}
double volume_to_surface_m(const Bar& bar) {
  return 0.5 / (1.0 / bar.a.in_m() + 1.0 / bar.b.in_m());
}
double volume_to_surface_m(const Prism& prism) {
  return prism.side.in_m() * std::numbers::sqrt3 / 12.0;
}
double volume_to_surface_m(const Tube& tube) {
  const double outer_m = tube.diameter.in_m();
  const double wall_m = tube.wall.in_m();
  // section pi (D - w) w; perimeter pi D, and pi (D - 2 w) inside
  return tube.inside == Inside::open ? 0.5 * wall_m : (outer_m - wall_m) * wall_m / outer_m;
}
double volume_to_surface_m(const Gridded& solid) {
  return solid.volume_to_surface.in_m();
}

/// Without trailing zeros: millimetres to five digits, 76.2; inches to two decimals, 2.95.
std::string number(Length length, Lengths unit) {
  if (unit == Lengths::inch)
    return fmt::format("{:g}", std::round(length.in_inch() * 100.0) / 100.0);
  return fmt::format("{:.5g}", length.in_mm());
}

std::string sizes(const Slab& slab, Lengths unit) {
  return "slab " + number(slab.thickness, unit);
}
std::string sizes(const Rod& rod, Lengths unit) {
  return "rod " + number(rod.diameter, unit);
}
std::string sizes(const Ball& ball, Lengths unit) {
  return "ball " + number(ball.diameter, unit);
}
std::string sizes(const Block& block, Lengths unit) {
  return fmt::format(
      "block {} x {} x {}", number(block.a, unit), number(block.b, unit), number(block.c, unit));
}
std::string sizes(const Disc& disc, Lengths unit) {
  return fmt::format("disc {} x {}", number(disc.diameter, unit), number(disc.height, unit));
}
std::string sizes(const Bar& bar, Lengths unit) {
  return fmt::format("bar {} x {}", number(bar.a, unit), number(bar.b, unit));
}
std::string sizes(const Prism& prism, Lengths unit) {
  return "prism " + number(prism.side, unit);
}
std::string sizes(const Tube& tube, Lengths unit) {
  return fmt::format("tube {}, wall {}", number(tube.diameter, unit), number(tube.wall, unit));
}
std::string sizes(const Gridded& solid, Lengths unit) {
  std::string text;
  for (const Gridded::Measures& part : solid.measures) {
    text += (text.empty() ? "" : ", ") + part.name;
    const char* before = " ";
    for (const Length size : part.sizes) {
      text += before + number(size, unit);
      before = " x ";
    }
  }
  return text;
}

std::string faces_note(const Shape& shape) {
  if (const auto* const tube = std::get_if<Tube>(&shape)) return ", " + describe(tube->inside);
  if (const auto* const solid = std::get_if<Gridded>(&shape)) {
    return solid->remark.empty() ? "" : ", " + solid->remark;
  }
  const Slab* slab = std::get_if<Slab>(&shape);
  if (slab == nullptr || slab->faces == Faces::both) return "";
  return slab->faces == Faces::one_free ? ", one face cooled, free to bend"
                                        : ", one face cooled, held flat";
}

}  // namespace

Length largest_ball(const Shape& shape) {
  return std::visit([](const auto& s) { return largest_ball_in(s); }, shape);
}

Length volume_to_surface(const Shape& shape) {
  return Length::from_m(std::visit([](const auto& s) { return volume_to_surface_m(s); }, shape));
}

std::string describe(Inside inside) {
  return inside == Inside::open ? "inside open" : "inside against a core";
}

std::string describe(const Shape& shape, Lengths unit) {
  const std::string text = std::visit([unit](const auto& s) { return sizes(s, unit); }, shape);
  return text + " " + unit_name(unit) + faces_note(shape);
}

}  // namespace thickset

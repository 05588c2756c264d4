#pragma once

#include "units/length.h"

#include <string>
#include <variant>
#include <vector>

namespace thickset {

/// How the faces of a slab lose heat.
enum class Faces {
  both,      ///< both faces
  one_free,  ///< one face, the other insulated; the slab is free to bend
  one_held,  ///< one face, the other insulated; the slab is held flat
};

struct Slab {
  Length thickness;
  Faces faces = Faces::both;
};
struct Rod {  ///< long cylinder, free ends
  Length diameter;
};
struct Ball {
  Length diameter;
};
struct Block {  ///< all six faces cooled; sides in any order
  Length a, b, c;
};
struct Disc {  ///< short cylinder, cooled all round
  Length diameter, height;
};
struct Bar {  ///< long bar of square or rectangular section
  Length a, b;
};
struct Prism {  ///< long prism, equilateral triangle of this side
  Length side;
};

/// Any other solid, given by its surface, with what a grid made of it (geometry/meshed_solid.h).
struct Meshed {
  std::string name;  ///< of its file, without the folder
  Length a, b, c;    ///< sides of its box
  Length ball;       ///< diameter of the largest ball that fits
  Length volume_to_surface;
  /// The slabs that stand for it, each thicker by what it may be off.
  Length steady_difference, slowest_mode, permanent_tension;
  double surface_factor = 1.0;  ///< on the tension of its surface: for sides behind walls
};

using Shape = std::variant<Slab, Rod, Ball, Block, Disc, Bar, Prism, Meshed>;

/// Diameter of the largest ball that fits: what a caster means by "how thick is it".
Length largest_ball(const Shape& shape);

/// Volume over cooled surface.
Length volume_to_surface(const Shape& shape);

/// "block 75 x 75 x 150 mm".
std::string describe(const Shape& shape, Lengths unit);

/// The smallest and largest thickness the models were made for; outside, the program warns (and
/// refuses beyond a factor that makes no sense for glass).
inline constexpr Length thinnest_made_for = Length::from_mm(12.0);
inline constexpr Length thickest_made_for = Length::from_mm(300.0);

}  // namespace thickset

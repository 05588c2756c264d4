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

/// What a hollow piece has inside.
enum class Inside {
  open,  ///< cooled as the outside is
  core,  ///< against a core: not cooled
};

/// Long tube, free ends.
struct Tube {
  Length diameter;  ///< outside
  Length wall;
  Inside inside;
};

/// How a surface grows when every point of it moves outwards by t, over its own area:
/// 1 + per_m t + per_m2 t^2; see geometry/area_growth.h.
struct AreaGrowth {
  double per_m, per_m2;
};

/// Any other solid, with what a grid made of it (geometry/gridded_solid.h).
struct Gridded {
  /// Its name and measures, as they are shown: "vessel" 200 x 250, "wall" 12.
  struct Measures {
    std::string name;
    std::vector<Length> sizes;
  };
  std::vector<Measures> measures;
  std::string remark;         ///< follows the measures and their unit; may be empty
  bool cools_inside = false;  ///< a hollow, open to the kiln
  Length ball;                ///< diameter of the largest ball that fits
  Length volume_to_surface;
  AreaGrowth growth;
  /// The slabs that stand for it, each thicker by what it may be off.
  Length steady_difference, slowest_mode, permanent_tension;
  double surface_factor = 1.0;  ///< on the tension of its surface: for sides behind walls
};

using Shape = std::variant<Slab, Rod, Ball, Block, Disc, Bar, Prism, Tube, Gridded>;

/// Diameter of the largest ball that fits: what a caster means by "how thick is it".
Length largest_ball(const Shape& shape);

/// Volume over cooled surface.
Length volume_to_surface(const Shape& shape);

/// "inside open", "inside against a core".
std::string describe(Inside inside);

/// "block 75 x 75 x 150 mm".
std::string describe(const Shape& shape, Lengths unit);

/// The smallest and largest thickness the models were made for; outside, the program warns (and
/// refuses beyond a factor that makes no sense for glass).
inline constexpr Length thinnest_made_for = Length::from_mm(12.0);
inline constexpr Length thickest_made_for = Length::from_mm(300.0);

}  // namespace thickset

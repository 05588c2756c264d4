#pragma once

#include "base/place.h"
#include "geometry/convex_region.h"
#include "geometry/profile.h"
#include "geometry/shape.h"
#include "units/length.h"

#include <string_view>
#include <variant>

namespace thickset {

struct Vessel {             ///< upright, of one wall thickness, open above
  Length diameter, height;  ///< outside
  Length wall, bottom;
  Inside inside;
};
struct Dome {  ///< cap of a ball, solid, flat beneath
  Length diameter, height;
};
struct Cone {  ///< solid, on its base
  Length diameter, height;
};
struct Wedge {  ///< flat beneath, its top slopes evenly from one end to the other
  Length length, width, thick_end, thin_end;
};
struct BossedDisc {  ///< a smaller disc in the middle of a larger one
  Length diameter, height, boss_diameter, boss_height;
};
struct Dumbbell {            ///< two balls joined by a round neck
  Length first, second;      ///< diameters; the first is below
  Length neck, neck_length;  ///< its diameter, and the length that shows between the balls
};

/// A solid that a few measures describe and no series solves.
using SolidByMeasures = std::variant<Vessel, Dome, Cone, Wedge, BossedDisc, Dumbbell>;

/// Refuses measures that no solid has. Throws: Error at `place`: a wall of half the diameter, a
/// bottom as high as the vessel, a dome above half a ball, a thin end above the thick one, a boss
/// as wide as its disc, a neck wider than a lump.
void check_measures(const SolidByMeasures& solid, const Place& place);

/// A width that no ball in the solid has more than, from its measures at once. The search for the
/// largest ball takes long where that is thin by orders of magnitude beside the solid.
Length no_ball_above(const SolidByMeasures& solid);

/// Of a hollow piece, a tube too.
void check_wall(std::string_view kind, Length diameter, Length wall, const Place& place);

/// The half section of all but the wedge; bases at z = 0. In: measures as checked.
Profile profile_of(const Vessel& vessel);
Profile profile_of(const Dome& dome);
Profile profile_of(const Cone& cone);
Profile profile_of(const BossedDisc& disc);
Profile profile_of(const Dumbbell& dumbbell);

/// Its length along x from the thick end, its width along y, its base at z = 0.
ConvexRegion region_of(const Wedge& wedge);

/// Diameter of the largest ball that fits.
Length largest_ball(const SolidByMeasures& solid);

}  // namespace thickset

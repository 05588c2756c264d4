#pragma once

#include "geometry/shape.h"

#include <array>
#include <optional>
#include <vector>

#include <Eigen/Core>

namespace thickset {

/// Half of a section through the axis of a solid of revolution: its surface as a chain of pieces in
/// the half plane of r (from the axis) and z (along it), the glass on the left of the way along
/// them. Begins and ends on the axis, or closes off it.
struct Profile {
  enum class Part { outside, base, inside };
  struct Piece {
    Eigen::Vector2d from_m, to_m;  ///< (r, z)
    Part part = Part::outside;
    /// A piece of a sphere that bulges outwards about this place of the axis; it does not go past
    /// its equator. Else the piece is straight.
    std::optional<double> centre_z_m{};
  };
  std::vector<Piece> pieces;
};

/// At a place on the piece, outwards; length 1.
Eigen::Vector2d normal_of(const Profile::Piece& piece, const Eigen::Vector2d& place_m);

/// Distance to the nearest place of a piece.
double distance_m(const Profile::Piece& piece, const Eigen::Vector2d& place_m);

/// The part of the surface where a place lies, in the half plane; where pieces meet the normal says
/// which is meant.
Profile::Part part_at(const Profile& profile,
                      const Eigen::Vector2d& place_m,
                      const Eigen::Vector2d& normal);

/// By Pappus: the integral of r^2 dz, and of r along the pieces.
double volume_m3(const Profile& profile);
double area_m2(const Profile::Piece& piece);

/// How the surface of some parts grows outwards, see area_growth.h. In: for each part, by its
/// number in the enum, whether it counts; the pieces that do are next to each other.
/// Error: exact to the first order in t; with re-entrant edges and where one end of the parts does
///        not face along the axis, the second is that of rounded edges.
/// Source: [STEINER1840]; notes/geometry.md#solids-by-their-measures.
AreaGrowth area_growth(const Profile& profile, const std::array<bool, 3>& counts);

}  // namespace thickset

#include "geometry/revolved_region.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

namespace thickset {
namespace {

/// (r, z) of a place.
Eigen::Vector2d in_half_plane(const Eigen::Vector3d& place_m) {
  return {std::hypot(place_m.x(), place_m.y()), place_m.z()};
}

/// Whether a piece crosses the line on which one coordinate (0: r, 1: z) has this value.
bool crosses(const Profile::Piece& piece, int coordinate, double value) {
  const double from = piece.from_m(coordinate);
  const double to = piece.to_m(coordinate);
  return std::min(from, to) <= value && value < std::max(from, to);
}

/// Where it does: the piece's other coordinate there.
double other_coordinate(const Profile::Piece& piece, int coordinate, double value) {
  const int other = 1 - coordinate;
  if (piece.centre_z_m) {
    const double centre = *piece.centre_z_m;
    const double r1 = piece.from_m.x();
    const double s1 = piece.from_m.y() - centre;
    const double radius_2 = r1 * r1 + s1 * s1;
    const double along = coordinate == 1 ? value - centre : value;
    const double across = std::sqrt(std::max(radius_2 - along * along, 0.0));
    if (coordinate == 1) return across;
    const bool upper = piece.from_m.y() + piece.to_m.y() > 2.0 * centre;
    return upper ? centre + across : centre - across;
  }
  const double share =
      (value - piece.from_m(coordinate)) / (piece.to_m(coordinate) - piece.from_m(coordinate));
  return piece.from_m(other) + share * (piece.to_m(other) - piece.from_m(other));
}

Eigen::Vector3d turned(const Eigen::Vector2d& normal, double x_m, double y_m) {
  const double r_m = std::hypot(x_m, y_m);
  if (!(r_m > 0.0)) return {normal.x(), 0.0, normal.y()};
  return {normal.x() * x_m / r_m, normal.x() * y_m / r_m, normal.y()};
}

void sort_rising(std::vector<Region::Crossing>& crossings) {
  std::sort(crossings.begin(), crossings.end(), [](const auto& a, const auto& b) {
    return a.position_m < b.position_m;
  });
}

}  // namespace

RevolvedRegion::RevolvedRegion(Profile profile) : profile_{std::move(profile)} {
  double radius_m = 0.0;
  double low_m = profile_.pieces.front().from_m.y();
  double high_m = low_m;
  for (const Profile::Piece& piece : profile_.pieces) {
    radius_m = std::max(radius_m, piece.to_m.x());
    low_m = std::min(low_m, piece.to_m.y());
    high_m = std::max(high_m, piece.to_m.y());
  }
  bounds_m_ = {{-radius_m, -radius_m, low_m}, {radius_m, radius_m, high_m}};
}

std::vector<Region::Crossing> RevolvedRegion::crossings(int axis, double u_m, double v_m) const {
  assert(axis >= 0 && axis < 3);
  std::vector<Crossing> all;
  if (axis == 2) {  // u is x, v is y
    const double r_m = std::hypot(u_m, v_m);
    for (const Profile::Piece& piece : profile_.pieces) {
      if (!crosses(piece, 0, r_m)) continue;
      const double z_m = other_coordinate(piece, 0, r_m);
      all.push_back({z_m, turned(normal_of(piece, {r_m, z_m}), u_m, v_m)});
    }
  } else {
    const double z_m = axis == 0 ? v_m : u_m;
    const double off_m = axis == 0 ? u_m : v_m;  // of the line from the axis
    for (const Profile::Piece& piece : profile_.pieces) {
      if (!crosses(piece, 1, z_m)) continue;
      const double r_m = other_coordinate(piece, 1, z_m);
      if (!(r_m > std::abs(off_m))) continue;
      const double half_m = std::sqrt((r_m - off_m) * (r_m + off_m));
      const Eigen::Vector2d normal = normal_of(piece, {r_m, z_m});
      for (const double along_m : {-half_m, half_m}) {
        const double x_m = axis == 0 ? along_m : off_m;
        const double y_m = axis == 0 ? off_m : along_m;
        all.push_back({along_m, turned(normal, x_m, y_m)});
      }
    }
  }
  sort_rising(all);
  return all;
}

Profile::Part RevolvedRegion::part_at(const Eigen::Vector3d& place_m,
                                      const Eigen::Vector3d& normal) const {
  const Eigen::Vector2d place = in_half_plane(place_m);
  const double outwards =
      place.x() > 0.0 ? (normal.x() * place_m.x() + normal.y() * place_m.y()) / place.x() : 0.0;
  return thickset::part_at(profile_, place, {outwards, normal.z()});
}

}  // namespace thickset

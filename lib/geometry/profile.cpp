#include "geometry/profile.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numbers>

namespace thickset {
namespace {

using std::numbers::pi;

double radius_m(const Profile::Piece& piece) {
  return std::hypot(piece.from_m.x(), piece.from_m.y() - *piece.centre_z_m);
}

double cross(const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
  return a.x() * b.y() - a.y() * b.x();
}

/// Turn of the normals where a piece ends and the next begins; above 0 on a convex edge.
double turn_between(const Profile::Piece& piece, const Profile::Piece& next) {
  const Eigen::Vector2d before = normal_of(piece, piece.to_m);
  const Eigen::Vector2d after = normal_of(next, next.from_m);
  return std::atan2(cross(before, after), before.dot(after));
}

/// Length of the way between two offset faces at an edge, over the offset: an arc on a convex edge,
/// what both faces lose on a re-entrant one.
double growth_at(double turn) {
  return turn >= 0.0 ? turn : 2.0 * std::tan(0.5 * turn);
}

bool counts_in(const std::array<bool, 3>& counts, const Profile::Piece& piece) {
  return counts[static_cast<std::size_t>(piece.part)];
}

}  // namespace

Eigen::Vector2d normal_of(const Profile::Piece& piece, const Eigen::Vector2d& place_m) {
  if (piece.centre_z_m) {
    return Eigen::Vector2d(place_m.x(), place_m.y() - *piece.centre_z_m).normalized();
  }
  const Eigen::Vector2d way = (piece.to_m - piece.from_m).normalized();
  return {way.y(), -way.x()};
}

double distance_m(const Profile::Piece& piece, const Eigen::Vector2d& place_m) {
  const double to_ends_m = std::min((place_m - piece.from_m).norm(), (place_m - piece.to_m).norm());
  if (piece.centre_z_m) {
    const Eigen::Vector2d centre_m(0.0, *piece.centre_z_m);
    const Eigen::Vector2d out = place_m - centre_m;
    // counter-clockwise about the centre, the glass on the left
    const bool within =
        cross(piece.from_m - centre_m, out) >= 0.0 && cross(out, piece.to_m - centre_m) >= 0.0;
    return within ? std::abs(radius_m(piece) - out.norm()) : to_ends_m;
  }
  const Eigen::Vector2d way = piece.to_m - piece.from_m;
  const double along = way.dot(place_m - piece.from_m) / way.squaredNorm();
  if (!(along > 0.0 && along < 1.0)) return to_ends_m;
  return std::abs(cross(way, place_m - piece.from_m)) / way.norm();
}

Profile::Part part_at(const Profile& profile,
                      const Eigen::Vector2d& place_m,
                      const Eigen::Vector2d& normal) {
  double size_m = 0.0;
  for (const Profile::Piece& piece : profile.pieces) {
    size_m = std::max({size_m, piece.to_m.x(), std::abs(piece.to_m.y())});
  }
  constexpr double on_it = 1e-6;  // of the size
  const Profile::Piece* best = &profile.pieces.front();
  double best_agreement = -2.0;
  for (const Profile::Piece& piece : profile.pieces) {
    if (distance_m(piece, place_m) > on_it * size_m) continue;
    const double agreement = normal.dot(normal_of(piece, place_m));
    if (agreement <= best_agreement) continue;
    best = &piece;
    best_agreement = agreement;
  }
  return best->part;
}

// V = pi * integral of r^2 dz along the pieces: of a straight one (r1^2 + r1 r2 + r2^2) dz / 3, of
// a sphere's with r^2 = R^2 - s^2, s = z - centre: R^2 s - s^3 / 3 between its ends
double volume_m3(const Profile& profile) {
  double sum_m3 = 0.0;
  for (const Profile::Piece& piece : profile.pieces) {
    const double dz_m = piece.to_m.y() - piece.from_m.y();
    if (piece.centre_z_m) {
      const double square_m2 = radius_m(piece) * radius_m(piece);
      const double from_m = piece.from_m.y() - *piece.centre_z_m;
      const double to_m = piece.to_m.y() - *piece.centre_z_m;
      sum_m3 += square_m2 * dz_m - (to_m * to_m * to_m - from_m * from_m * from_m) / 3.0;
    } else {
      const double r1_m = piece.from_m.x();
      const double r2_m = piece.to_m.x();
      sum_m3 += (r1_m * r1_m + r1_m * r2_m + r2_m * r2_m) * dz_m / 3.0;
    }
  }
  return pi * sum_m3;
}

double area_m2(const Profile::Piece& piece) {
  if (piece.centre_z_m) {
    return 2.0 * pi * radius_m(piece) * std::abs(piece.to_m.y() - piece.from_m.y());
  }
  return pi * (piece.from_m.x() + piece.to_m.x()) * (piece.to_m - piece.from_m).norm();
}

// 2 M: the curvature round the axis, n_r / r, integrates to 2 pi dz over any piece, the other to
// 2 pi |dz| over a sphere's; an edge of turn t adds 2 pi r t. The integral of their product is that
// of the turn of the normal, 2 pi dn_z.
AreaGrowth area_growth(const Profile& profile, const std::array<bool, 3>& counts) {
  double area = 0.0;
  double twice_mean = 0.0;
  double product = 0.0;
  const auto n_z = [](const Profile::Piece& piece, const Eigen::Vector2d& place_m) {
    return normal_of(piece, place_m).y();
  };
  const Profile::Piece* before = nullptr;
  for (const Profile::Piece& piece : profile.pieces) {
    if (!counts_in(counts, piece)) continue;
    const double dz_m = piece.to_m.y() - piece.from_m.y();
    area += area_m2(piece);
    twice_mean += 2.0 * pi * (dz_m + (piece.centre_z_m ? std::abs(dz_m) : 0.0));
    product += 2.0 * pi * (n_z(piece, piece.to_m) - n_z(piece, piece.from_m));
    if (before != nullptr) {
      twice_mean += 2.0 * pi * piece.from_m.x() * growth_at(turn_between(*before, piece));
      product += 2.0 * pi * (n_z(piece, piece.from_m) - n_z(*before, before->to_m));
    }
    before = &piece;
  }
  // a point on the axis, as of a cone: rounded up to the direction of the axis
  if (before != nullptr && before->to_m.x() == 0.0) {
    product += 2.0 * pi * (1.0 - n_z(*before, before->to_m));
  }
  return {twice_mean / area, product / area};
}

}  // namespace thickset

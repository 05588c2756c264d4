#include "geometry/ball_in_profile.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <queue>
#include <vector>

namespace thickset {
namespace {

constexpr double accuracy = 1e-4;
constexpr int most_squares = 1'000'000;

struct Square {
  Eigen::Vector2d middle_m;
  double half_m;
  double at_most_m;
  bool operator<(const Square& other) const { return at_most_m < other.at_most_m; }
};

/// Whether a place lies in the glass: the line outwards from it leaves once more than it enters.
bool holds(const Profile& profile, const Eigen::Vector2d& place_m) {
  bool inside = false;
  for (const Profile::Piece& piece : profile.pieces) {
    const double low_m = std::min(piece.from_m.y(), piece.to_m.y());
    const double high_m = std::max(piece.from_m.y(), piece.to_m.y());
    if (!(low_m <= place_m.y() && place_m.y() < high_m)) continue;
    double r_m = 0.0;
    if (piece.centre_z_m) {
      const double s_m = place_m.y() - *piece.centre_z_m;
      const double radius_m = std::hypot(piece.from_m.x(), piece.from_m.y() - *piece.centre_z_m);
      r_m = std::sqrt(std::max(radius_m * radius_m - s_m * s_m, 0.0));
    } else {
      const double share = (place_m.y() - piece.from_m.y()) / (piece.to_m.y() - piece.from_m.y());
      r_m = piece.from_m.x() + share * (piece.to_m.x() - piece.from_m.x());
    }
    if (r_m > place_m.x()) inside = !inside;
  }
  return inside;
}

/// Above 0 in the glass, below outside of it.
double depth_m(const Profile& profile, const Eigen::Vector2d& place_m) {
  double nearest_m = std::numeric_limits<double>::infinity();
  for (const Profile::Piece& piece : profile.pieces) {
    nearest_m = std::min(nearest_m, distance_m(piece, place_m));
  }
  return holds(profile, place_m) ? nearest_m : -nearest_m;
}

/// No depth in the square is more. The distance to a straight piece is convex, and so is the mean
/// of two: both are largest at a corner. Of any other piece only that it changes no more than the
/// way.
double at_most_m(const Profile& profile, const Square& square, double depth_of_middle_m) {
  double bound_m = depth_of_middle_m + std::numbers::sqrt2 * square.half_m;
  std::vector<std::array<double, 4>> to_straight;
  for (const Profile::Piece& piece : profile.pieces) {
    if (piece.centre_z_m) continue;
    std::array<double, 4> of_corners{};
    for (std::size_t corner = 0; corner < 4; ++corner) {
      const Eigen::Vector2d offset_m((corner % 2 == 0 ? -1.0 : 1.0) * square.half_m,
                                     (corner / 2 == 0 ? -1.0 : 1.0) * square.half_m);
      of_corners[corner] = distance_m(piece, square.middle_m + offset_m);
    }
    to_straight.push_back(of_corners);
  }
  for (std::size_t i = 0; i < to_straight.size(); ++i) {
    for (std::size_t j = i; j < to_straight.size(); ++j) {
      double most_m = 0.0;
      for (std::size_t corner = 0; corner < 4; ++corner) {
        most_m = std::max(most_m, 0.5 * (to_straight[i][corner] + to_straight[j][corner]));
      }
      bound_m = std::min(bound_m, most_m);
    }
  }
  return bound_m;
}

}  // namespace

BallInProfile largest_ball_in(const Profile& profile) {
  double radius_m = 0.0;
  double low_m = profile.pieces.front().from_m.y();
  double high_m = low_m;
  for (const Profile::Piece& piece : profile.pieces) {
    radius_m = std::max(radius_m, piece.to_m.x());
    low_m = std::min(low_m, piece.to_m.y());
    high_m = std::max(high_m, piece.to_m.y());
  }
  BallInProfile best{{0.0, 0.5 * (low_m + high_m)}, 0.0, 0.0};
  std::priority_queue<Square> open;
  const auto look_at = [&](Square square) {
    const double depth = depth_m(profile, square.middle_m);
    if (depth > best.radius_m) best = {square.middle_m, depth, 0.0};
    square.at_most_m = at_most_m(profile, square, depth);
    open.push(square);
  };
  // squares side by side on the axis, as wide as the solid
  const double size_m = std::max(radius_m, 1e-3 * (high_m - low_m));
  const int n = static_cast<int>(std::ceil((high_m - low_m) / size_m));
  for (int i = 0; i < n; ++i) {
    look_at({{0.5 * size_m, low_m + (i + 0.5) * size_m}, 0.5 * size_m, 0.0});
  }
  for (int i = 0; i < most_squares; ++i) {
    const Square square = open.top();
    if (square.at_most_m <= (1.0 + accuracy) * best.radius_m) break;
    open.pop();
    const double half_m = 0.5 * square.half_m;
    for (const double dr_m : {-half_m, half_m}) {
      for (const double dz_m : {-half_m, half_m}) {
        look_at({square.middle_m + Eigen::Vector2d(dr_m, dz_m), half_m, 0.0});
      }
    }
  }
  best.at_most_radius_m = std::max(open.top().at_most_m, best.radius_m);
  return best;
}

}  // namespace thickset

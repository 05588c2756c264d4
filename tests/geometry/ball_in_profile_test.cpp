#include "geometry/ball_in_profile.h"

#include "geometry/solid_by_measures.h"

#include <cmath>
#include <string>
#include <vector>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

Length m(double length_m) {
  return Length::from_m(length_m);
}

struct Row {
  std::string name;
  Profile profile;
  double radius_m;
};

}  // namespace

// Elementary, from where the ball touches.
TEST_CASE("ball in profile: the known radius, and a bound that is just above it") {
  // touches outside and base and the edge inside: (w - r)^2 + (b - r)^2 = r^2
  const double in_corner = 0.035 - std::sqrt(2.0 * 0.015 * 0.02);
  // touches the base and passes the edge of the boss: r = (R^2 + h^2) / 2h
  const double under_boss = (0.03 * 0.03 + 0.04 * 0.04) / (2.0 * 0.04);
  const std::vector<Row> rows = {
      {"vessel", profile_of(Vessel{m(0.2), m(0.25), m(0.015), m(0.02), Inside::core}), in_corner},
      {"vessel, thick bottom",
       profile_of(Vessel{m(0.2), m(0.25), m(0.01), m(0.06), Inside::open}),
       0.03},
      {"vessel, thick wall",
       profile_of(Vessel{m(0.2), m(0.25), m(0.08), m(0.005), Inside::open}),
       0.04},
      {"cone", profile_of(Cone{m(6.0), m(4.0)}), 3.0 * 4.0 / (3.0 + 5.0)},
      {"dome", profile_of(Dome{m(0.12), m(0.04)}), 0.02},
      {"half ball", profile_of(Dome{m(0.12), m(0.06)}), 0.03},
      {"boss", profile_of(BossedDisc{m(0.2), m(0.04), m(0.06), m(0.1)}), under_boss},
      {"flat boss", profile_of(BossedDisc{m(0.2), m(0.03), m(0.1), m(0.01)}), 0.02},
      {"plate", profile_of(BossedDisc{m(3.0), m(0.003), m(2.9), m(1e-9)}), 0.0015},
      {"dumbbell", profile_of(Dumbbell{m(0.06), m(0.08), m(0.03), m(0.02)}), 0.04},
      {"capsule", profile_of(Dumbbell{m(0.06), m(0.06), m(0.06), m(0.5)}), 0.03}};
  constexpr double accuracy = 1e-4;
  for (const Row& row : rows) {
    CAPTURE(row.name);
    const BallInProfile ball = largest_ball_in(row.profile);
    CHECK(ball.radius_m <= row.radius_m * (1.0 + 1e-3 * accuracy));
    CHECK(ball.radius_m >= row.radius_m * (1.0 - accuracy));
    CHECK(ball.at_most_radius_m >= row.radius_m * (1.0 - 1e-3 * accuracy));
    CHECK(ball.at_most_radius_m <= (1.0 + accuracy) * ball.radius_m);
    for (const Profile::Piece& piece : row.profile.pieces) {
      CHECK(distance_m(piece, ball.centre_m) >= ball.radius_m * (1.0 - 1e-9));
    }
  }
}

#include "geometry/profile.h"

#include "geometry/area_growth.h"
#include "geometry/solid_by_measures.h"

#include <cmath>
#include <numbers>

#include <doctest/doctest.h>

using namespace thickset;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double rounding = 1e-12;
constexpr std::array<bool, 3> all = {true, true, true};
constexpr std::array<bool, 3> no_base = {true, false, true};

Length m(double length_m) {
  return Length::from_m(length_m);
}

double area_m2(const Profile& profile) {
  double sum_m2 = 0.0;
  for (const Profile::Piece& piece : profile.pieces) sum_m2 += area_m2(piece);
  return sum_m2;
}

bool agrees(double value, double expected) {
  return std::abs(value - expected) <= rounding * std::abs(expected);
}

double grown(const AreaGrowth& growth, double t_m) {
  return 1.0 + growth.per_m * t_m + growth.per_m2 * t_m * t_m;
}

}  // namespace

// Closed forms of school books.
TEST_CASE("profile: volumes and areas are those of the bodies") {
  const Profile cone = profile_of(Cone{m(0.6), m(0.4)});
  CHECK(agrees(volume_m3(cone), pi * 0.09 * 0.4 / 3.0));
  CHECK(agrees(area_m2(cone), pi * 0.09 + pi * 0.3 * 0.5));
  const Profile dome = profile_of(Dome{m(0.8), m(0.2)});  // of a ball of radius 0.5
  CHECK(agrees(volume_m3(dome), pi * 0.04 * (1.5 - 0.2) / 3.0));
  CHECK(agrees(area_m2(dome), pi * 0.16 + 2.0 * pi * 0.5 * 0.2));
  const Profile vessel = profile_of(Vessel{m(0.2), m(0.3), m(0.02), m(0.05), Inside::open});
  CHECK(agrees(volume_m3(vessel), pi * (0.01 * 0.3 - 0.0064 * 0.25)));
  CHECK(agrees(area_m2(vessel),
               2.0 * pi * 0.01 + pi * 0.2 * 0.3 + pi * 0.16 * 0.25));  // rim and inner bottom: base
  const Profile disc = profile_of(BossedDisc{m(0.4), m(0.1), m(0.2), m(0.3)});
  CHECK(agrees(volume_m3(disc), pi * (0.04 * 0.1 + 0.01 * 0.3)));
  CHECK(agrees(area_m2(disc), 2.0 * pi * 0.04 + pi * 0.4 * 0.1 + pi * 0.2 * 0.3));
  // a neck as wide as both lumps: a cylinder with half a ball at each end
  const Profile capsule = profile_of(Dumbbell{m(0.2), m(0.2), m(0.2), m(0.5)});
  CHECK(agrees(volume_m3(capsule), pi * 0.01 * 0.5 + 4.0 / 3.0 * pi * 0.001));
  CHECK(agrees(area_m2(capsule), 2.0 * pi * 0.1 * 0.5 + 4.0 * pi * 0.01));
  // two balls less the caps that the neck's ends cover, and the neck
  const Profile dumbbell = profile_of(Dumbbell{m(1.0), m(2.0), m(0.6), m(0.5)});
  const double cap_1 = 0.5 - 0.4;
  const double cap_2 = 1.0 - std::sqrt(0.91);
  const auto cap = [](double radius, double h) { return pi * h * h * (3.0 * radius - h) / 3.0; };
  CHECK(
      agrees(volume_m3(dumbbell),
             4.0 / 3.0 * pi * (0.125 + 1.0) - cap(0.5, cap_1) - cap(1.0, cap_2) + pi * 0.09 * 0.5));
}

// Put together from faces, arcs round edges and caps; elementary.
TEST_CASE("profile: the surface at a distance is the sum of its pieces") {
  for (const double t : {0.001, 0.05, 0.4}) {
    CAPTURE(t);
    const double half_ball = 2.0 * pi * (1.0 + t) * (1.0 + t);
    const double edge = 2.0 * pi * t * (0.5 * pi + t);  // a quarter of a torus, of radius 1
    const Profile dome = profile_of(Dome{m(2.0), m(1.0)});
    CHECK(agrees(grown(area_growth(dome, all), t), (half_ball + edge + pi) / (3.0 * pi)));
    CHECK(agrees(grown(area_growth(dome, no_base), t), half_ball / (2.0 * pi)));
    // 3, 4, 5: the slope's normal is (0.8, 0.6)
    const Profile cone = profile_of(Cone{m(6.0), m(4.0)});
    const double slope = pi * 3.0 * 5.0 + 2.0 * pi * t * 0.8 * 5.0;
    const double tip = 2.0 * pi * t * t * (1.0 - 0.6);
    const double turn = 0.5 * pi + std::asin(0.6);
    const double rim = 2.0 * pi * t * (3.0 * turn + t * (1.0 + 0.6));
    CHECK(agrees(grown(area_growth(cone, all), t), (slope + tip + rim + 9.0 * pi) / (24.0 * pi)));
    CHECK(agrees(grown(area_growth(cone, no_base), t), (slope + tip) / (15.0 * pi)));
    const Profile capsule = profile_of(Dumbbell{m(2.0), m(2.0), m(2.0), m(3.0)});
    CHECK(agrees(grown(area_growth(capsule, all), t),
                 (2.0 * pi * (1.0 + t) * 3.0 + 4.0 * pi * (1.0 + t) * (1.0 + t)) / (10.0 * pi)));
  }
  // a re-entrant edge: boss and disc both lose t
  const Profile boss = profile_of(BossedDisc{m(4.0), m(1.0), m(2.0), m(1.0)});
  constexpr double t = 1e-6;
  const double lost = -2.0 * t * 2.0 * pi;
  const double around = 2.0 * pi * t * (1.0 + 1.0);  // both cylinders wider
  const double edges = 0.5 * pi * t * 2.0 * pi * (2.0 + 2.0 + 1.0);
  const double boss_area = area_m2(boss);
  CHECK(std::abs(boss_area * (grown(area_growth(boss, all), t) - 1.0) - (lost + around + edges)) <
        1e-9);
}

TEST_CASE("profile: the outside of a vessel grows as a disc's does, its inside not with it") {
  const Profile vessel = profile_of(Vessel{m(0.2), m(0.3), m(0.02), m(0.05), Inside::core});
  const AreaGrowth growth = area_growth(vessel, {true, true, false});
  const double cooled_m2 = pi * 0.01 + pi * 0.2 * 0.3 + pi * (0.01 - 0.0064);
  const double twice_mean = 2.0 * pi * (0.3 + 2.0 * 0.5 * pi * 0.1);
  CHECK(agrees(growth.per_m, twice_mean / cooled_m2));
  CHECK(agrees(growth.per_m2, 4.0 * pi / cooled_m2));
}

TEST_CASE("profile: distances and parts") {
  const Profile vessel = profile_of(Vessel{m(2.0), m(3.0), m(0.2), m(0.5), Inside::core});
  using Part = Profile::Part;
  using V = Eigen::Vector2d;
  CHECK(part_at(vessel, V(0.3, 0.0), V(0, -1)) == Part::base);
  CHECK(part_at(vessel, V(1.0, 0.0), V(0, -1)) == Part::base);  // their edge
  CHECK(part_at(vessel, V(1.0, 0.0), V(1, 0)) == Part::outside);
  CHECK(part_at(vessel, V(1.0, 2.0), V(1, 0)) == Part::outside);
  CHECK(part_at(vessel, V(0.9, 3.0), V(0, 1)) == Part::outside);  // rim
  CHECK(part_at(vessel, V(0.8, 3.0), V(0, 1)) == Part::outside);
  CHECK(part_at(vessel, V(0.8, 3.0), V(-1, 0)) == Part::inside);
  CHECK(part_at(vessel, V(0.8, 1.0), V(-1, 0)) == Part::inside);
  CHECK(part_at(vessel, V(0.1, 0.5), V(0, 1)) == Part::inside);
  const Profile dome = profile_of(Dome{m(2.0), m(1.0)});
  CHECK(std::abs(distance_m(dome.pieces[1], V(0.3, 0.4)) - 0.5) < 1e-15);
  CHECK(std::abs(distance_m(dome.pieces[1], V(0.6, -0.3)) - 0.5) < 1e-15);  // from its end
  CHECK(std::abs(distance_m(dome.pieces[0], V(1.3, 0.4)) - 0.5) < 1e-15);
}

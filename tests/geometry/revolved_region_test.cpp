#include "geometry/revolved_region.h"

#include "geometry/cooling_field.h"
#include "geometry/poisson_maximum.h"
#include "geometry/solid_by_measures.h"

#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include <doctest/doctest.h>
#include <boost/math/special_functions/legendre.hpp>

using namespace thickset;
using V = Eigen::Vector3d;

namespace {

constexpr double pi = std::numbers::pi;

Length m(double length_m) {
  return Length::from_m(length_m);
}

bool agrees(double value, double expected, double relative) {
  return std::abs(value - expected) <= relative * std::abs(expected);
}

/// A solid, and which places lie in it, in other words.
struct Known {
  std::string name;
  RevolvedRegion region;
  std::function<bool(double r, double z)> holds;
};

std::vector<Known> known_solids() {
  const auto within = [](double low, double x, double high) { return low < x && x < high; };
  return {
      {"vessel",
       RevolvedRegion{profile_of(Vessel{m(2.0), m(3.0), m(0.3), m(0.5), Inside::open})},
       [=](double r, double z) { return r < 1.0 && within(0.0, z, 3.0) && !(r < 0.7 && z > 0.5); }},
      {"dome",
       RevolvedRegion{profile_of(Dome{m(1.6), m(0.4)})},
       [](double r, double z) { return z > 0.0 && std::hypot(r, z + 0.6) < 1.0; }},
      {"cone",
       RevolvedRegion{profile_of(Cone{m(2.0), m(3.0)})},
       [](double r, double z) { return z > 0.0 && r < 1.0 - z / 3.0; }},
      {"boss",
       RevolvedRegion{profile_of(BossedDisc{m(2.0), m(0.4), m(0.8), m(0.5)})},
       [=](double r, double z) {
         return (r < 1.0 && within(0.0, z, 0.4)) || (r < 0.4 && within(0.0, z, 0.9));
       }},
      {"dumbbell",
       RevolvedRegion{profile_of(Dumbbell{m(2.0), m(1.2), m(0.6), m(0.5)})},
       [=](double r, double z) {
         const double first_z = 1.0;
         const double neck_from = first_z + std::sqrt(1.0 - 0.09);
         const double second_z = neck_from + 0.5 + std::sqrt(0.36 - 0.09);
         return std::hypot(r, z - first_z) < 1.0 || std::hypot(r, z - second_z) < 0.6 ||
                (r < 0.3 && within(first_z, z, second_z));
       }}};
}

}  // namespace

TEST_CASE("revolved region: lines enter and leave where the solid begins and ends") {
  std::mt19937 random{7};
  for (const Known& known : known_solids()) {
    CAPTURE(known.name);
    const Region::Box box = known.region.bounds_m();
    for (int i = 0; i < 3000; ++i) {
      const int axis = i % 3;
      V place;
      for (int a = 0; a < 3; ++a) {
        place(a) = std::uniform_real_distribution<double>{box.low_m(a), box.high_m(a)}(random);
      }
      const auto crossings =
          known.region.crossings(axis, place((axis + 1) % 3), place((axis + 2) % 3));
      REQUIRE(crossings.size() % 2 == 0);
      int below = 0;
      for (const Region::Crossing& c : crossings) below += c.position_m < place(axis) ? 1 : 0;
      REQUIRE((below % 2 == 1) == known.holds(std::hypot(place.x(), place.y()), place.z()));
      double before_m = -std::numeric_limits<double>::infinity();
      for (const Region::Crossing& c : crossings) {
        REQUIRE(c.position_m >= before_m);
        before_m = c.position_m;
        REQUIRE(std::abs(c.normal.norm() - 1.0) < 1e-12);
        // a step along the normal leads out, a step back in
        V at = place;
        at(axis) = c.position_m;
        constexpr double step_m = 1e-6;
        const V out = at + step_m * c.normal;
        const V in = at - step_m * c.normal;
        CHECK(!known.holds(std::hypot(out.x(), out.y()), out.z()));
        CHECK(known.holds(std::hypot(in.x(), in.y()), in.z()));
      }
    }
  }
}

TEST_CASE(
    "revolved region: lines through edges, faces and the axis cross an even number of times") {
  for (const Known& known : known_solids()) {
    CAPTURE(known.name);
    std::vector<double> at = {0.0, -0.0};
    for (const Profile::Piece& piece : known.region.profile().pieces) {
      for (const double x : {piece.to_m.x(), -piece.to_m.x(), piece.to_m.y()}) at.push_back(x);
    }
    for (int axis = 0; axis < 3; ++axis) {
      for (const double u : at) {
        for (const double v : at) CHECK(known.region.crossings(axis, u, v).size() % 2 == 0);
      }
      const double nan = std::numeric_limits<double>::quiet_NaN();
      CHECK(known.region.crossings(axis, nan, 0.0).empty());
      CHECK(known.region.crossings(axis, 1e30, 0.0).empty());
    }
  }
}

TEST_CASE("revolved region: a grid finds the volume of the profile") {
  for (const Known& known : known_solids()) {
    CAPTURE(known.name);
    const CoolingField field{known.region, {}, {32.0 * 32.0 * 32.0}};
    // lines across the axis see a flat step where they lie next to it, half a spacing off at most
    const Region::Box box = known.region.bounds_m();
    double steps_m2 = 0.0;
    for (const Profile::Piece& piece : known.region.profile().pieces) {
      const double z_m = piece.from_m.y();
      const bool step = z_m == piece.to_m.y() && z_m > box.low_m.z() && z_m < box.high_m.z();
      if (step) steps_m2 += area_m2(piece);
    }
    const double known_m3 = volume_m3(known.region.profile());
    CHECK(std::abs(field.volume_m3() - known_m3) <
          0.005 * known_m3 + 0.5 * field.spacing_m() * steps_m2);
  }
}

// Half a ball: u = -z^2/2 + sum of c_l r^l P_l(cos), l odd, 0 on the base and, at r = 1, where
// x^2/2 = sum of c_l P_l(x): c_l = (2l + 1) times the integral of x^2/2 P_l from 0 to 1. Computed,
// not published.
TEST_CASE("revolved region: a half ball cools as its series says, and as the ball on a shelf") {
  std::vector<double> shares;  // of l = 1, 3, 5, ...
  for (int l = 1; l < 60; l += 2) {
    constexpr int n = 4000;
    double integral = 0.0;
    for (int k = 0; k < n; ++k) {
      const double x = (k + 0.5) / n;
      integral += 0.5 * x * x * boost::math::legendre_p(l, x) / n;
    }
    shares.push_back((2 * l + 1) * integral);
  }
  double most = 0.0;
  for (int i = 1; i < 70; ++i) {
    const double r = 0.01 * i;  // beyond 0.7 the series is slow, and u is small
    double u = -0.5 * r * r;
    for (std::size_t k = 0; k < shares.size(); ++k) {
      u += shares[k] * std::pow(r, 2.0 * static_cast<double>(k) + 1.0);
    }
    most = std::max(most, u);
  }
  const RevolvedRegion region{profile_of(Dome{m(2.0), m(1.0)})};
  const CoolingField exposed{region, {}, {40.0 * 40.0 * 40.0}};
  CHECK(agrees(exposed.largest_m2(), most, 0.005));
  const CoolingAt on_shelf = [&](const V& place_m, const V& normal) {
    const bool base = region.part_at(place_m, normal) == Profile::Part::base;
    return base ? Cooling::insulated() : Cooling::exposed();
  };
  CoolingField shelf{region, on_shelf, {40.0 * 40.0 * 40.0}};
  CHECK(agrees(shelf.largest_m2(), 1.0 / 6.0, 0.005));
  CHECK(agrees(shelf.slowest_mode().eigenvalue_per_m2, pi * pi, 0.01));
}

TEST_CASE("revolved region: limits of boss, dumbbell and vessel") {
  constexpr double of_grid = 0.01;
  const auto largest_m2 = [](const Profile& profile) {
    return CoolingField{RevolvedRegion{profile}, {}, {36.0 * 36.0 * 36.0}}.largest_m2();
  };
  // a boss of no height: the disc
  CHECK(agrees(largest_m2(profile_of(BossedDisc{m(2.0), m(0.5), m(0.8), m(1e-7)})),
               poisson::disc_maximum_m2(2.0, 0.5),
               of_grid));
  // a neck as wide as both lumps: a rod, four diameters from its ends
  CHECK(agrees(largest_m2(profile_of(Dumbbell{m(1.0), m(1.0), m(1.0), m(4.0)})),
               poisson::rod_maximum_m2(1.0),
               of_grid));
  // a narrow neck leaves the larger ball as it is, but for its share of the surface
  const double ball = poisson::ball_maximum_m2(1.0);
  const double joined = largest_m2(profile_of(Dumbbell{m(1.0), m(0.7), m(0.1), m(0.2)}));
  CHECK(joined > ball * (1.0 - 0.002));
  CHECK(joined < ball * (1.0 + of_grid));
}

#include "geometry/solid_by_measures.h"

#include "base/error.h"
#include "geometry/ball_in_profile.h"

#include <algorithm>
#include <cmath>
#include <string_view>

#include <fmt/format.h>

namespace thickset {
namespace {

using Part = Profile::Part;

/// Builds a profile from the axis below; pieces without a length are left out.
class Outline {
 public:
  explicit Outline(double z_m) : at_m_{0.0, z_m} {}

  Outline& to(double r_m, double z_m, Part part = Part::outside) {
    return add({at_m_, {r_m, z_m}, part, {}});
  }
  Outline& round(double r_m, double z_m, double centre_z_m) {
    return add({at_m_, {r_m, z_m}, Part::outside, centre_z_m});
  }
  Profile made() const { return profile_; }

 private:
  Outline& add(Profile::Piece piece) {
    if (piece.from_m != piece.to_m) profile_.pieces.push_back(piece);
    at_m_ = piece.to_m;
    return *this;
  }

  Eigen::Vector2d at_m_;
  Profile profile_;
};

double half_m(Length diameter) {
  return 0.5 * diameter.in_m();
}

std::string mm(Length length) {
  return fmt::format("{:.5g} mm", length.in_mm());
}

void refuse(bool impossible, const Place& place, const std::string& what, const std::string& mend) {
  if (impossible) throw Error{place, what, mend};
}

void check(const Vessel& vessel, const Place& place) {
  check_wall("vessel", vessel.diameter, vessel.wall, place);
  refuse(!(vessel.bottom < vessel.height),
         place,
         fmt::format("a bottom of {} leaves no hollow in a vessel {} high",
                     mm(vessel.bottom),
                     mm(vessel.height)),
         "write diameter x height x wall x bottom, the bottom less than the height");
}
void check(const Dome& dome, const Place& place) {
  constexpr double rounding = 1e-9;
  refuse(!(dome.height.in_m() <= half_m(dome.diameter) * (1.0 + rounding)),
         place,
         fmt::format("a dome {} across is at most {} high, half a ball; {} is more",
                     mm(dome.diameter),
                     mm(Length::from_m(half_m(dome.diameter))),
                     mm(dome.height)),
         "write diameter x height; what is higher and flat beneath is nearest to a cone or a disc, "
         "or goes by a mesh");
}
void check(const Cone&, const Place&) {}
void check(const Wedge& wedge, const Place& place) {
  refuse(!(wedge.thin_end <= wedge.thick_end),
         place,
         fmt::format("the thin end, {}, is thicker than the thick one, {}",
                     mm(wedge.thin_end),
                     mm(wedge.thick_end)),
         "write length x width x thick end x thin end");
}
void check(const BossedDisc& disc, const Place& place) {
  refuse(!(disc.boss_diameter < disc.diameter),
         place,
         fmt::format("a boss {} across does not stand on a disc {} across",
                     mm(disc.boss_diameter),
                     mm(disc.diameter)),
         "write diameter x height x boss diameter x boss height; a boss as wide as the disc makes "
         "a disc of both heights");
}
void check(const Dumbbell& dumbbell, const Place& place) {
  const Length smaller = std::min(dumbbell.first, dumbbell.second);
  refuse(
      !(dumbbell.neck <= smaller),
      place,
      fmt::format("a neck {} across is wider than the lump of {}", mm(dumbbell.neck), mm(smaller)),
      "write one lump's diameter x the other's x the neck's x the neck's length");
}

Length both(Length one, Length other) {
  return Length::from_m(one.in_m() + other.in_m());
}

// The smallest side of the box around each. In a vessel a ball that is wider than wall and bottom
// lies where they meet, and is not as wide as both together.
Length widest_ball(const Vessel& vessel) {
  return std::min({vessel.diameter, vessel.height, both(vessel.wall, vessel.bottom)});
}
Length widest_ball(const Dome& dome) {
  return std::min(dome.diameter, dome.height);
}
Length widest_ball(const Cone& cone) {
  return std::min(cone.diameter, cone.height);
}
Length widest_ball(const Wedge& wedge) {
  return std::min({wedge.length, wedge.width, wedge.thick_end});
}
Length widest_ball(const BossedDisc& disc) {
  return std::min(disc.diameter, both(disc.height, disc.boss_height));
}
Length widest_ball(const Dumbbell& dumbbell) {
  return std::max(dumbbell.first, dumbbell.second);
}

double ball_radius_m(const Wedge& wedge) {
  // Touching base, thick end and slope, s its steepness: T = r (1 + s + sqrt(1 + s^2)).
  const double thick_m = wedge.thick_end.in_m();
  const double slope = (thick_m - wedge.thin_end.in_m()) / wedge.length.in_m();
  const double of_section_m = thick_m / (1.0 + slope + std::sqrt(1.0 + slope * slope));
  return std::min({of_section_m, half_m(wedge.length), half_m(wedge.width)});
}
template <class Round>
double ball_radius_m(const Round& round) {
  return largest_ball_in(profile_of(round)).radius_m;
}

}  // namespace

void check_wall(std::string_view kind, Length diameter, Length wall, const Place& place) {
  refuse(
      !(wall.in_m() < half_m(diameter)),
      place,
      fmt::format("a wall of {} leaves no hollow in a {} {} across", mm(wall), kind, mm(diameter)),
      fmt::format("a wall is less than half the diameter, {}; without a hollow it is a disc or "
                  "a rod",
                  mm(Length::from_m(half_m(diameter)))));
}

void check_measures(const SolidByMeasures& solid, const Place& place) {
  std::visit([&](const auto& s) { check(s, place); }, solid);
}

Length no_ball_above(const SolidByMeasures& solid) {
  return std::visit([](const auto& s) { return widest_ball(s); }, solid);
}

Profile profile_of(const Vessel& vessel) {
  const double outer_m = half_m(vessel.diameter);
  const double inner_m = outer_m - vessel.wall.in_m();
  const double height_m = vessel.height.in_m();
  const double bottom_m = vessel.bottom.in_m();
  return Outline{0.0}
      .to(outer_m, 0.0, Part::base)
      .to(outer_m, height_m)
      .to(inner_m, height_m)
      .to(inner_m, bottom_m, Part::inside)
      .to(0.0, bottom_m, Part::inside)
      .made();
}

// The ball's radius: R = (r^2 + h^2) / 2h.
Profile profile_of(const Dome& dome) {
  const double r_m = half_m(dome.diameter);
  const double height_m = std::min(dome.height.in_m(), r_m);
  const double ball_m = (r_m * r_m + height_m * height_m) / (2.0 * height_m);
  return Outline{0.0}.to(r_m, 0.0, Part::base).round(0.0, height_m, height_m - ball_m).made();
}

Profile profile_of(const Cone& cone) {
  return Outline{0.0}.to(half_m(cone.diameter), 0.0, Part::base).to(0.0, cone.height.in_m()).made();
}

Profile profile_of(const BossedDisc& disc) {
  const double r_m = half_m(disc.diameter);
  const double boss_m = half_m(disc.boss_diameter);
  const double step_m = disc.height.in_m();
  const double top_m = step_m + disc.boss_height.in_m();
  return Outline{0.0}
      .to(r_m, 0.0, Part::base)
      .to(r_m, step_m)
      .to(boss_m, step_m)
      .to(boss_m, top_m)
      .to(0.0, top_m)
      .made();
}

Profile profile_of(const Dumbbell& dumbbell) {
  const double first_m = half_m(dumbbell.first);
  const double second_m = half_m(dumbbell.second);
  const double neck_m = half_m(dumbbell.neck);
  // where a ball and the neck meet, from the ball's middle
  const auto to_neck_m = [&](double ball_m) {
    return std::sqrt(std::max(ball_m * ball_m - neck_m * neck_m, 0.0));
  };
  const double neck_begins_m = first_m + to_neck_m(first_m);
  const double neck_ends_m = neck_begins_m + dumbbell.neck_length.in_m();
  const double second_z_m = neck_ends_m + to_neck_m(second_m);
  return Outline{0.0}
      .round(first_m, first_m, first_m)
      .round(neck_m, neck_begins_m, first_m)
      .to(neck_m, neck_ends_m)
      .round(second_m, second_z_m, second_z_m)
      .round(0.0, second_z_m + second_m, second_z_m)
      .made();
}

ConvexRegion region_of(const Wedge& wedge) {
  const double x_m = wedge.length.in_m();
  const double y_m = wedge.width.in_m();
  const double thick_m = wedge.thick_end.in_m();
  const double thin_m = wedge.thin_end.in_m();
  const Eigen::Vector3d a(0, 0, 0), b(x_m, 0, 0), c(x_m, y_m, 0), d(0, y_m, 0);
  const Eigen::Vector3d e(0, 0, thick_m), f(x_m, 0, thin_m), g(x_m, y_m, thin_m),
      h(0, y_m, thick_m);
  std::vector<ConvexRegion::Face> faces;
  faces.reserve(6);  // in the order of BoxSide
  faces.push_back(face_through({a, e, h, d}));
  faces.push_back(face_through({b, c, g, f}));
  faces.push_back(face_through({a, b, f, e}));
  faces.push_back(face_through({d, h, g, c}));
  faces.push_back(face_through({a, d, c, b}));
  faces.push_back(face_through({e, f, g, h}));
  return ConvexRegion{std::move(faces)};
}

Length largest_ball(const SolidByMeasures& solid) {
  const double radius_m = std::visit([](const auto& s) { return ball_radius_m(s); }, solid);
  return Length::from_m(2.0 * radius_m);
}

}  // namespace thickset

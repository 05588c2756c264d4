#include "geometry/grid_by_measures.h"

#include "base/error.h"
#include "geometry/ball_in_profile.h"
#include "geometry/equivalent_slab.h"
#include "geometry/poisson_maximum.h"
#include "geometry/revolved_region.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <string>

#include <fmt/format.h>

namespace thickset {
namespace {

using Words = std::vector<Gridded::Measures>;

Words words_of(const Vessel& vessel) {
  return {{"vessel", {vessel.diameter, vessel.height}},
          {"wall", {vessel.wall}},
          {"bottom", {vessel.bottom}}};
}
Words words_of(const Dome& dome) {
  return {{"dome", {dome.diameter, dome.height}}};
}
Words words_of(const Cone& cone) {
  return {{"cone", {cone.diameter, cone.height}}};
}
Words words_of(const Wedge& wedge) {
  return {{"wedge", {wedge.length, wedge.width}},
          {"thick end", {wedge.thick_end}},
          {"thin end", {wedge.thin_end}}};
}
Words words_of(const BossedDisc& disc) {
  return {{"disc", {disc.diameter, disc.height}},
          {"with a boss", {disc.boss_diameter, disc.boss_height}}};
}
Words words_of(const Dumbbell& dumbbell) {
  return {{"dumbbell", {dumbbell.first, dumbbell.second}},
          {"neck", {dumbbell.neck, dumbbell.neck_length}}};
}

/// What the grid has to resolve: the thinnest part that the rest hangs on.
double thinnest_m(const Vessel& vessel) {
  return std::min(vessel.wall, vessel.bottom).in_m();
}
double thinnest_m(const BossedDisc& disc) {
  return std::min(disc.height, disc.diameter).in_m();
}
double thinnest_m(const Dumbbell& dumbbell) {
  return dumbbell.neck.in_m();
}
template <class Solid>
double thinnest_m(const Solid& solid) {
  return largest_ball(solid).in_m();
}

bool may_stand(const Dumbbell&) {
  return false;
}
template <class Round>
bool may_stand(const Round&) {
  return true;
}

bool has(const std::vector<BoxSide>& sides, BoxSide side) {
  return std::find(sides.begin(), sides.end(), side) != sides.end();
}

constexpr std::array<std::string_view, 6> names_on_wedge =
    {"thick end", "thin end", "front", "back", "bottom", "top"};

std::string remark_of(const SolidByMeasures& solid, const std::vector<BoxSide>& insulated) {
  std::string text;
  const auto add = [&](const std::string& more) { text += (text.empty() ? "" : ", ") + more; };
  if (const auto* const vessel = std::get_if<Vessel>(&solid)) add(describe(vessel->inside));
  for (const BoxSide side : insulated) {
    add(std::string{names_on_wedge[static_cast<std::size_t>(side)]} + " insulated");
  }
  return text;
}

/// Cells of field and stress over the box of a solid: enough for its thinnest part, as far as no
/// more of them are filled than of a block on the default grids.
SolidSettings settings_for(const Region::Box& box,
                           double volume_m3,
                           double thinnest_m,
                           const Place& place) {
  constexpr double field_across = 8.0;
  constexpr double tension_across = 6.0;
  constexpr double fewest_across = 2.5;  // of the grid of the stress
  constexpr double most_hollow = 4.0;    // the empty cells have their cost as well
  SolidSettings settings;
  const double box_m3 = (box.high_m - box.low_m).prod();
  const double thinnest_m3 = std::pow(thinnest_m, 3);
  const double hollow = std::min(box_m3 / volume_m3, most_hollow);
  const auto cells = [&](double across, double usual) {
    return std::clamp(box_m3 / thinnest_m3 * std::pow(across, 3), usual, hollow * usual);
  };
  settings.field_cells = cells(field_across, settings.field_cells);
  settings.tension_cells = cells(tension_across, settings.tension_cells);
  const double across = std::cbrt(settings.tension_cells * thinnest_m3 / box_m3);
  if (across >= fewest_across) return settings;
  throw Error{
      place,
      fmt::format("a part {:.3g} mm thick is too thin for a grid over a solid of {:.4g} x "
                  "{:.4g} x {:.4g} mm",
                  1e3 * thinnest_m,
                  1e3 * (box.high_m.x() - box.low_m.x()),
                  1e3 * (box.high_m.y() - box.low_m.y()),
                  1e3 * (box.high_m.z() - box.low_m.z())),
      fmt::format(
          "make it {:.3g} mm or thicker, or describe the thin part and the thick one each alone",
          1e3 * thinnest_m * fewest_across / across)};
}

/// What is known of the permanent tension without a grid, which shows too little where few cells
/// lie across: the wall of a vessel is a tube; against a core its bottom is held flat by the wall.
Length least_tension_slab(const Vessel& vessel) {
  const Length wall =
      equivalent_slabs(Tube{vessel.diameter, vessel.wall, vessel.inside}).permanent_tension;
  if (vessel.inside == Inside::open) return wall;
  return std::max(wall, equivalent_slabs(Slab{vessel.bottom, Faces::one_held}).permanent_tension);
}
template <class Solid>
Length least_tension_slab(const Solid&) {
  return Length::from_m(0.0);
}

bool cools_inside(const Vessel& vessel) {
  return vessel.inside == Inside::open;
}
template <class Solid>
bool cools_inside(const Solid&) {
  return false;
}
bool against_core(const Vessel& vessel) {
  return vessel.inside == Inside::core;
}
template <class Solid>
bool against_core(const Solid&) {
  return false;
}

template <class Round>
GriddedSolid on_grid(const Round& solid,
                     SolidMeasures known,
                     const std::vector<BoxSide>& insulated,
                     const Place& place,
                     const Progress& progress) {
  const Profile profile = profile_of(solid);
  const std::array<bool, 3> cooled = {
      true, !has(insulated, BoxSide::bottom), !against_core(solid)};  // by Profile::Part
  const RevolvedRegion region{profile};
  const BallInProfile ball = largest_ball_in(profile);
  known.volume_m3 = volume_m3(profile);
  for (const Profile::Piece& piece : profile.pieces) {
    known.surface_m2 += area_m2(piece);
    if (cooled[static_cast<std::size_t>(piece.part)]) known.cooled_m2 += area_m2(piece);
  }
  known.growth = area_growth(profile, cooled);
  known.ball_centre_m = {ball.centre_m.x(), 0.0, ball.centre_m.y()};
  known.ball_radius_m = ball.radius_m;
  CoolingAt cooling_at;
  if (!(cooled[0] && cooled[1] && cooled[2])) {
    cooling_at = [&](const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal) {
      const auto part = static_cast<std::size_t>(region.part_at(place_m, normal));
      return cooled[part] ? Cooling::exposed() : Cooling::insulated();
    };
  }
  const SolidSettings settings =
      settings_for(region.bounds_m(), known.volume_m3, thinnest_m(solid), place);
  GriddedSolid gridded = gridded_solid(region, cooling_at, known, settings, progress);
  gridded.places = PlaceWords::round;
  gridded.shape.cools_inside = cools_inside(solid);
  gridded.shape.permanent_tension =
      std::max(gridded.shape.permanent_tension, least_tension_slab(solid));
  return gridded;
}

GriddedSolid::Ends ends_of(const Wedge& wedge, const std::vector<BoxSide>& insulated) {
  // an insulated face is a plane of symmetry
  const auto doubled = [&](Length length, BoxSide side) {
    return length.in_m() * (has(insulated, side) ? 2.0 : 1.0);
  };
  const bool endless = has(insulated, BoxSide::front) && has(insulated, BoxSide::back);
  const double width_m =
      std::max(doubled(wedge.width, BoxSide::front), doubled(wedge.width, BoxSide::back));
  const auto acts_as = [&](Length end) {
    const double thick_m = doubled(end, BoxSide::bottom);
    if (endless) return Length::from_m(thick_m);
    return Length::from_m(std::sqrt(8.0 * poisson::rectangle_maximum_m2(thick_m, width_m)));
  };
  return {wedge.thick_end, wedge.thin_end, acts_as(wedge.thick_end), acts_as(wedge.thin_end)};
}

GriddedSolid on_grid(const Wedge& wedge,
                     SolidMeasures known,
                     const std::vector<BoxSide>& insulated,
                     const Place& place,
                     const Progress& progress) {
  const ConvexRegion region = region_of(wedge);
  std::vector<bool> cooled;
  known.volume_m3 = region.volume_m3();
  for (std::size_t face = 0; face < region.faces().size(); ++face) {
    cooled.push_back(!has(insulated, static_cast<BoxSide>(face)));
    known.surface_m2 += region.area_m2(face);
    if (cooled.back()) known.cooled_m2 += region.area_m2(face);
  }
  known.growth = region.growth_of(cooled);
  known.ball_radius_m = 0.5 * largest_ball(wedge).in_m();
  known.ball_centre_m = {known.ball_radius_m, 0.5 * wedge.width.in_m(), known.ball_radius_m};
  CoolingAt cooling_at;
  if (!insulated.empty()) {
    cooling_at = [&](const Eigen::Vector3d&, const Eigen::Vector3d& normal) {
      return cooled[region.face_of(normal)] ? Cooling::exposed() : Cooling::insulated();
    };
  }
  const SolidSettings settings =
      settings_for(region.bounds_m(), known.volume_m3, 2.0 * known.ball_radius_m, place);
  GriddedSolid solid = gridded_solid(region, cooling_at, known, settings, progress);
  solid.places = PlaceWords::wedge;
  solid.ends = ends_of(wedge, insulated);
  return solid;
}

}  // namespace

void check_insulated(const SolidByMeasures& solid,
                     const std::vector<BoxSide>& insulated,
                     const Place& place) {
  if (insulated.empty()) return;
  if (std::holds_alternative<Wedge>(solid)) {
    if (!has(insulated, BoxSide::top)) return;
    throw Error{place,
                "the top of a wedge slopes and cools",
                "write bottom, left (its thick end), right (its thin end), front or back"};
  }
  const bool stands = std::visit([](const auto& s) { return may_stand(s); }, solid);
  if (!stands) {
    throw Error{place, "a dumbbell has no flat side", "leave it out: it cools all round"};
  }
  if (insulated.size() == 1 && insulated.front() == BoxSide::bottom) return;
  throw Error{place,
              "a round solid has its bottom alone as a flat side to stand on",
              "write bottom, or leave it out"};
}

GriddedSolid gridded_solid(const SolidByMeasures& solid,
                           const std::vector<BoxSide>& insulated,
                           const Place& place,
                           const Progress& progress) {
  SolidMeasures known{.words = std::visit([](const auto& s) { return words_of(s); }, solid),
                      .remark = remark_of(solid, insulated),
                      .volume_m3 = 0.0,
                      .surface_m2 = 0.0,
                      .cooled_m2 = 0.0,
                      .growth = {0.0, 0.0},
                      .ball_centre_m = Eigen::Vector3d::Zero(),
                      .ball_radius_m = 0.0};
  return std::visit(
      [&](const auto& s) { return on_grid(s, std::move(known), insulated, place, progress); },
      solid);
}

}  // namespace thickset

#include "geometry/meshed_solid.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <utility>

#include <fmt/format.h>
#include <Eigen/Geometry>

#include "base/error.h"
#include "base/text.h"
#include "geometry/area_growth.h"
#include "geometry/cooling_field.h"
#include "geometry/read_solid.h"

namespace thickset {
namespace {

constexpr std::array<std::string_view, 6> side_names =
    {"left", "right", "front", "back", "bottom", "top"};
constexpr double faces_it = 0.9;     // cosine between the normal and the side's own
constexpr double lies_at_it = 0.01;  // of the box along that axis
constexpr double coarser_cells = 64.0 * 64.0 * 64.0;

bool belongs_to(BoxSide side,
                const Region::Box& box,
                const Eigen::Vector3d& place_m,
                const Eigen::Vector3d& normal) {
  const int axis = static_cast<int>(side) / 2;
  const bool at_end = static_cast<int>(side) % 2 == 1;
  const double length_m = box.high_m(axis) - box.low_m(axis);
  const double off_m = at_end ? box.high_m(axis) - place_m(axis) : place_m(axis) - box.low_m(axis);
  return (at_end ? normal(axis) : -normal(axis)) >= faces_it && off_m <= lies_at_it * length_m;
}

const SideSurface& surface_at(const SurfaceCooling& cooling,
                              const Region::Box& box,
                              const Eigen::Vector3d& place_m,
                              const Eigen::Vector3d& normal) {
  for (std::size_t side = 0; side < cooling.of_side.size(); ++side) {
    const std::optional<SideSurface>& own = cooling.of_side[side];
    if (own && belongs_to(static_cast<BoxSide>(side), box, place_m, normal)) return *own;
  }
  return cooling.elsewhere;
}

/// Empty where all is exposed.
CoolingAt cooling_at(const SurfaceCooling& cooling, const Region::Box& box) {
  const auto exposed = [](const auto& own) {
    return !own || own->cooling.kind == Cooling::Kind::exposed;
  };
  if (cooling.elsewhere.cooling.kind == Cooling::Kind::exposed &&
      std::all_of(cooling.of_side.begin(), cooling.of_side.end(), exposed)) {
    return {};
  }
  return [&cooling, box](const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal) {
    return surface_at(cooling, box, place_m, normal).cooling;
  };
}

/// Of the surface: what is exposed, and all of it by its share of a bare one's exchange.
struct CooledArea {
  double exposed_m2 = 0.0, exchanging_m2 = 0.0;
};

CooledArea cooled_area(const TriangleMesh& mesh,
                       const Region::Box& box,
                       const SurfaceCooling& cooling) {
  CooledArea area;
  for (const TriangleMesh::Triangle& triangle : mesh.triangles) {
    const Eigen::Vector3d a = mesh.vertex_m(triangle[0]);
    const Eigen::Vector3d b = mesh.vertex_m(triangle[1]);
    const Eigen::Vector3d c = mesh.vertex_m(triangle[2]);
    const Eigen::Vector3d doubled = (b - a).cross(c - a);
    const double own_m2 = 0.5 * doubled.norm();
    if (own_m2 == 0.0) continue;
    const SideSurface& surface = surface_at(cooling, box, (a + b + c) / 3.0, doubled.normalized());
    if (surface.cooling.kind == Cooling::Kind::exposed) area.exposed_m2 += own_m2;
    area.exchanging_m2 += surface.exchanges * own_m2;
  }
  return area;
}

/// The field is 0 at the open surface, which is above the kiln by what its film takes; walls end at
/// the kiln, below 0 by as much.
SurfaceCooling from_open_surface(SurfaceCooling cooling, double volume_to_surface_m) {
  const auto lower = [&](SideSurface& surface) {
    if (surface.cooling.kind != Cooling::Kind::behind_wall || surface.exchanges == 0.0) return;
    surface.cooling.level_m2 -= cooling.film_m * volume_to_surface_m;
  };
  lower(cooling.elsewhere);
  for (std::optional<SideSurface>& side : cooling.of_side) {
    if (side) lower(*side);
  }
  return cooling;
}

/// As the ball of the same volume over surface: its true curvature is not known.
AreaGrowth growth_as_ball(double volume_to_surface_m) {
  return area_growth(Ball{Length::from_m(6.0 * volume_to_surface_m)});
}

}  // namespace

std::vector<BoxSide> read_sides(std::string_view text, const Place& place) {
  std::vector<BoxSide> sides;
  while (!text.empty()) {
    const std::size_t comma = std::min(text.find(','), text.size());
    const std::string_view word = trimmed(text.substr(0, comma));
    text.remove_prefix(std::min(comma + 1, text.size()));
    const auto name = std::find(side_names.begin(), side_names.end(), word);
    if (name == side_names.end()) {
      throw Error{place,
                  fmt::format("{} is no side of a solid", in_quotes(word)),
                  "write left, right, front, back, bottom or top, several with commas between"};
    }
    const BoxSide side = static_cast<BoxSide>(name - side_names.begin());
    if (std::find(sides.begin(), sides.end(), side) != sides.end()) {
      throw Error{place, fmt::format("{} is named twice", in_quotes(word)), "leave one out"};
    }
    sides.push_back(side);
  }
  return sides;
}

std::string_view name_of(BoxSide side) {
  return side_names[static_cast<std::size_t>(side)];
}

SurfaceCooling SurfaceCooling::insulated_at(const std::vector<BoxSide>& sides) {
  SurfaceCooling cooling{};
  for (const BoxSide side : sides) {
    cooling.of_side[static_cast<std::size_t>(side)] = SideSurface{Cooling::insulated(), 0.0};
  }
  return cooling;
}

GriddedSolid read_meshed_solid(const std::string& path,
                               Lengths unit,
                               const SurfaceCooling& cooling,
                               const Progress& progress,
                               std::span<const SurfaceCooling> otherwise) {
  const Solid solid = read_solid(path, unit, progress);
  const Region::Box box = solid.measures.bounds_m;
  const CooledArea area = cooled_area(solid.region.mesh(), box, cooling);
  if (!(area.exposed_m2 > 0.0)) {
    throw Error{{path},
                "no part of its surface is left to cool",
                "insulate fewer sides; a side is what faces it and lies at it, so that of a solid "
                "without a face there nothing is open"};
  }
  const double volume_to_surface_m = solid.measures.volume_m3 / area.exchanging_m2;
  const SurfaceCooling own = from_open_surface(cooling, volume_to_surface_m);
  std::vector<Length> difference_if;
  for (const SurfaceCooling& other : otherwise) {
    const SurfaceCooling then = from_open_surface(
        other,
        solid.measures.volume_m3 / cooled_area(solid.region.mesh(), box, other).exchanging_m2);
    const CoolingField field{solid.region, cooling_at(then, box), {coarser_cells}, progress};
    difference_if.push_back(field.steady_difference_slab());
  }
  const Eigen::Vector3d sides_m = box.high_m - box.low_m;
  const std::string name = std::filesystem::path{path}.filename().string();
  GriddedSolid gridded = gridded_solid(solid.region,
                                       cooling_at(own, box),
                                       {.words = {{name + ',',
                                                   {Length::from_m(sides_m(0)),
                                                    Length::from_m(sides_m(1)),
                                                    Length::from_m(sides_m(2))}}},
                                        .remark = {},
                                        .volume_m3 = solid.measures.volume_m3,
                                        .surface_m2 = solid.measures.area_m2,
                                        .cooled_m2 = area.exchanging_m2,
                                        .growth = growth_as_ball(volume_to_surface_m),
                                        .ball_centre_m = solid.ball.centre_m,
                                        .ball_radius_m = solid.ball.radius_m,
                                        .held = cooling.held},
                                       {},
                                       progress);
  gridded.notes = solid.notes;
  gridded.difference_if = std::move(difference_if);
  return gridded;
}

}  // namespace thickset

#include "geometry/meshed_solid.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <optional>

#include <fmt/format.h>
#include <Eigen/Geometry>

#include "base/error.h"
#include "base/text.h"
#include "geometry/area_growth.h"
#include "geometry/read_solid.h"

namespace thickset {
namespace {

constexpr std::array<std::string_view, 6> side_names =
    {"left", "right", "front", "back", "bottom", "top"};
constexpr double faces_it = 0.9;     // cosine between the normal and the side's own
constexpr double lies_at_it = 0.01;  // of the box along that axis

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

bool is_insulated(const std::vector<BoxSide>& insulated,
                  const Region::Box& box,
                  const Eigen::Vector3d& place_m,
                  const Eigen::Vector3d& normal) {
  return std::any_of(insulated.begin(), insulated.end(), [&](BoxSide side) {
    return belongs_to(side, box, place_m, normal);
  });
}

/// Of the surface that is not insulated.
double cooled_area_m2(const TriangleMesh& mesh,
                      const Region::Box& box,
                      const std::vector<BoxSide>& insulated) {
  double area_m2 = 0.0;
  for (const TriangleMesh::Triangle& triangle : mesh.triangles) {
    const Eigen::Vector3d a = mesh.vertex_m(triangle[0]);
    const Eigen::Vector3d b = mesh.vertex_m(triangle[1]);
    const Eigen::Vector3d c = mesh.vertex_m(triangle[2]);
    const Eigen::Vector3d doubled = (b - a).cross(c - a);
    const double own_m2 = 0.5 * doubled.norm();
    if (own_m2 == 0.0) continue;
    if (!is_insulated(insulated, box, (a + b + c) / 3.0, doubled.normalized())) area_m2 += own_m2;
  }
  return area_m2;
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

GriddedSolid read_meshed_solid(const std::string& path,
                               Lengths unit,
                               const std::vector<BoxSide>& insulated,
                               const Progress& progress) {
  const Solid solid = read_solid(path, unit, progress);
  const Region::Box box = solid.measures.bounds_m;
  const double cooled_m2 = cooled_area_m2(solid.region.mesh(), box, insulated);
  if (!(cooled_m2 > 0.0)) {
    throw Error{{path}, "no part of its surface is left to cool", "insulate fewer sides"};
  }
  CoolingAt cooling_at;
  if (!insulated.empty()) {
    cooling_at = [&](const Eigen::Vector3d& place_m, const Eigen::Vector3d& normal) {
      return is_insulated(insulated, box, place_m, normal) ? Cooling::insulated()
                                                           : Cooling::exposed();
    };
  }
  const Eigen::Vector3d sides_m = box.high_m - box.low_m;
  const std::string name = std::filesystem::path{path}.filename().string();
  GriddedSolid gridded = gridded_solid(
      solid.region,
      cooling_at,
      {.words =
           {{name + ',',
             {Length::from_m(sides_m(0)), Length::from_m(sides_m(1)), Length::from_m(sides_m(2))}}},
       .remark = {},
       .volume_m3 = solid.measures.volume_m3,
       .surface_m2 = solid.measures.area_m2,
       .cooled_m2 = cooled_m2,
       .growth = growth_as_ball(solid.measures.volume_m3 / cooled_m2),
       .ball_centre_m = solid.ball.centre_m,
       .ball_radius_m = solid.ball.radius_m},
      {},
      progress);
  gridded.notes = solid.notes;
  return gridded;
}

}  // namespace thickset

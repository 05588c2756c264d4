#include "simulation/side_walls.h"

#include <algorithm>

#include <fmt/format.h>

#include "base/error.h"
#include "simulation/steady_cooling.h"

namespace thickset {
namespace {

// Of a wall beyond which nothing passes: glass enough that what leaves by it is nothing.
constexpr double endless_m = 100.0;

std::array<const std::optional<PlacedText>*, 6> by_side(const WallWords& words) {
  return {&words.left, &words.right, &words.front, &words.back, &words.bottom, &words.top};
}

SideSurface surface_of(const Wall& wall, const Glass& glass) {
  if (wall.open()) return {Cooling::exposed(), 1.0};
  if (wall.layers.empty()) return {Cooling::insulated(), 0.0};
  const Temperature at = glass.strain_point.value;
  const double conductivity = glass.conductivity_W_per_m_K.value.at(at.in_K());
  const double heat_J_per_m3_K =
      glass.density_kg_per_m3.value * glass.heat_capacity_J_per_kg_K.value.at(at.in_K());
  const PlaneWall plane = plane_wall(wall, {}, at);
  const double heat_m = plane.own_heat_J_per_m2_K / heat_J_per_m3_K;
  if (wall.insulated) {
    return {Cooling::behind_wall(endless_m, endless_m * heat_m, heat_m), 0.0};
  }
  const double diffusivity = conductivity / heat_J_per_m3_K;
  return {Cooling::behind_wall(
              conductivity * plane.resistance_m2_K_per_W, diffusivity * plane.own_drop_s, heat_m),
          plane_wall({}, {}, at).resistance_m2_K_per_W / plane.resistance_m2_K_per_W};
}

/// Whether it holds the piece, as said or as what touches it suggests.
bool read_held(const WallWords& words, const SideWalls& walls, const Place& place) {
  if (words.grips) return read_grips(*words.grips);
  const std::vector<const Wall*> all = walls.all();
  const bool touched =
      std::any_of(all.begin(), all.end(), [](const Wall* wall) { return wall->touches(); });
  if (touched) return true;
  throw Error{place,
              "the sides differ and nothing touches the glass",
              "say with mould_grips whether it is held in shape (yes) or free to bend (no)"};
}

}  // namespace

std::vector<const Wall*> SideWalls::all() const {
  std::vector<const Wall*> walls;
  if (!elsewhere.open()) walls.push_back(&elsewhere);
  for (const std::optional<Wall>& wall : of_side) {
    if (wall && !wall->open()) walls.push_back(&*wall);
  }
  return walls;
}

bool SideWalls::any_assumed() const {
  const std::vector<const Wall*> walls = all();
  return std::any_of(
      walls.begin(), walls.end(), [](const Wall* wall) { return wall->any_assumed(); });
}

SideWalls SideWalls::with_assumed_conductivity_times(double factor) const {
  SideWalls changed = *this;
  changed.elsewhere = elsewhere.with_assumed_conductivity_times(factor);
  for (std::optional<Wall>& wall : changed.of_side) {
    if (wall) wall = wall->with_assumed_conductivity_times(factor);
  }
  return changed;
}

std::string describe(const SideWalls& walls, Lengths unit) {
  std::string text = describe(walls.elsewhere, unit);
  for (std::size_t side = 0; side < walls.of_side.size(); ++side) {
    if (!walls.of_side[side]) continue;
    text += fmt::format(
        "; {} {}", name_of(static_cast<BoxSide>(side)), describe(*walls.of_side[side], unit));
  }
  return text + (walls.held ? "; held in shape" : "; free to bend");
}

std::optional<SideWalls> read_side_walls(const WallWords& words,
                                         const std::vector<BoxSide>& insulated,
                                         const ReadNamedMould& read_named_mould) {
  const auto sides = by_side(words);
  const auto named =
      std::find_if(sides.begin(), sides.end(), [](const auto* word) { return word->has_value(); });
  if (named == sides.end()) return std::nullopt;
  const Place& place = (**named)->place;
  const auto read = [&](const PlacedText& word) {
    return read_wall(word.text, word.place, read_named_mould);
  };
  SideWalls walls;
  if (words.mould) walls.elsewhere = read(*words.mould);
  for (std::size_t side = 0; side < sides.size(); ++side) {
    if (*sides[side]) walls.of_side[side] = read(**sides[side]);
  }
  for (const BoxSide side : insulated) {
    std::optional<Wall>& wall = walls.of_side[static_cast<std::size_t>(side)];
    if (wall) {
      throw Error{(*sides[static_cast<std::size_t>(side)])->place,
                  fmt::format("the {} is insulated, and has layers here", name_of(side)),
                  "leave one out; layers may end with insulated"};
    }
    wall = Wall{.layers = {}, .insulated = true};
  }
  const auto open = [](const std::optional<Wall>& wall) { return wall && wall->open(); };
  if (!walls.elsewhere.open() && std::none_of(walls.of_side.begin(), walls.of_side.end(), open)) {
    throw Error{place,
                "no side of the solid sees the kiln",
                "write open for one side at least; a mould all round is written mould alone"};
  }
  walls.held = read_held(words, walls, place);
  return walls;
}

SurfaceCooling surface_cooling(const SideWalls& walls, const Glass& glass) {
  SurfaceCooling cooling{
      .elsewhere = surface_of(walls.elsewhere, glass), .of_side = {}, .held = walls.held};
  const Temperature at = glass.strain_point.value;
  cooling.film_m = glass.conductivity_W_per_m_K.value.at(at.in_K()) *
                   plane_wall({}, {}, at).resistance_m2_K_per_W;
  for (std::size_t side = 0; side < walls.of_side.size(); ++side) {
    if (walls.of_side[side]) cooling.of_side[side] = surface_of(*walls.of_side[side], glass);
  }
  return cooling;
}

}  // namespace thickset

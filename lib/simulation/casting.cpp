#include "simulation/casting.h"

#include <algorithm>
#include <filesystem>
#include <utility>

#include <fmt/format.h>

#include "base/entries.h"
#include "base/error.h"
#include "base/text.h"
#include "base/text_file.h"
#include "geometry/read_piece.h"
#include "schedule/settings.h"
#include "units/read_quantity.h"

namespace thickset {

bool Casting::reservoir_governs() const {
  return reservoir && *reservoir > largest_ball(shape);
}

Shape Casting::governing_shape() const {
  if (reservoir_governs()) return Slab{*reservoir};
  return shape;
}

Lengths read_mesh_unit(std::string_view text, const Place& place) {
  if (text == "mm") return Lengths::millimetre;
  if (text == "inch") return Lengths::inch;
  throw Error{place,
              fmt::format("{} is no unit of a mesh", in_quotes(text)),
              "write mm or inch, what the STL file counts in"};
}

Length checked_reservoir(Length reservoir, const Place& place) {
  if (reservoir >= thinnest_accepted && reservoir <= thickest_accepted) return reservoir;
  throw Error{place,
              fmt::format("a reservoir of {:g} mm is outside {:g} to {:g} mm",
                          reservoir.in_mm(),
                          thinnest_accepted.in_mm(),
                          thickest_accepted.in_mm()),
              "give the largest ball that fits into it"};
}

namespace {

/// A path in a file starts at that file's folder, wherever the program was started; names and
/// absolute paths stay as they are.
std::string seen_from(const std::string& casting_path,
                      const std::string& name,
                      std::string_view ending) {
  namespace fs = std::filesystem;
  const bool is_path = name.find('/') != name.npos || name.ends_with(ending);
  if (!is_path) return name;
  return (fs::path{casting_path}.parent_path() / name).lexically_normal().string();
}

std::optional<PlacedText> word_of(const Settings& settings, const char* key) {
  const Entry* const entry = settings.find(key);
  if (entry == nullptr) return std::nullopt;
  return PlacedText{entry->value, entry->value_place};
}

WallWords wall_words(const Settings& settings) {
  return {.mould = word_of(settings, "mould"),
          .top = word_of(settings, "top"),
          .bottom = word_of(settings, "bottom"),
          .left = word_of(settings, "left"),
          .right = word_of(settings, "right"),
          .front = word_of(settings, "front"),
          .back = word_of(settings, "back"),
          .grips = word_of(settings, "mould_grips")};
}

/// "2 mm" of this ball, or "3 %", as a share.
double read_thickness_uncertainty(const std::string& text, const Place& place, Length ball) {
  if (trimmed(text).ends_with('%')) return read_uncertain_share(text, place);
  const Length off = read_length(text, place);
  const double share = off.in_m() / ball.in_m();
  if (share >= least_uncertain_share && share <= most_uncertain_share) return share;
  throw Error{place,
              fmt::format("{:g} mm is outside {:.3g} to {:.3g} mm, {:g} to {:g} % of {:g} mm",
                          off.in_mm(),
                          least_uncertain_share * ball.in_mm(),
                          most_uncertain_share * ball.in_mm(),
                          100.0 * least_uncertain_share,
                          100.0 * most_uncertain_share,
                          ball.in_mm()),
              "write how far the thickness may be off either way: 2 mm, or 3 %"};
}

/// What a mesh of a casting file has come to.
struct MeshOfFile {
  std::optional<GriddedSolid> solid;
  std::optional<SideWalls> side_walls;
};

/// Thrown where seconds of work would begin on a file that is refused anyway.
struct RefusedAlready {};

/// The solid of a casting file whose shape is mesh.
MeshOfFile read_solid_of(const std::string& path,
                         Settings& settings,
                         const std::optional<Glass>& glass,
                         const std::optional<Length>& reservoir,
                         const ReadNamedMould& read_named_mould,
                         const Progress& progress) {
  const Entry* const mesh = settings.need("mesh", "write the path of an STL file");
  const Entry* const unit =
      settings.need("mesh_unit", "write mm or inch, what the STL file counts in");
  if (settings.find("size") != nullptr) {
    settings.problem("size", "a mesh has its own size", "leave it out");
  }
  if (settings.find("inside") != nullptr) {
    settings.problem("inside", "a mesh has its hollows itself", "leave it out");
  }
  if (settings.find("faces") != nullptr) {
    settings.problem(
        "faces", "only a slab has faces", "name the sides that do not cool: insulated = bottom");
  }
  if (mesh == nullptr || unit == nullptr) return {};
  try {
    const Lengths read_in = read_mesh_unit(unit->value, unit->value_place);
    const Entry* const insulated = settings.find("insulated");
    const std::vector<BoxSide> sides =
        insulated ? read_sides(insulated->value, insulated->value_place) : std::vector<BoxSide>{};
    const std::string file = seen_from(path, mesh->value, ".stl");
    const std::optional<SideWalls> walls =
        read_side_walls(wall_words(settings), sides, read_named_mould);
    if (!walls) {
      return {read_meshed_solid(file, read_in, SurfaceCooling::insulated_at(sides), progress), {}};
    }
    if (!glass) return {};  // a problem already
    return {read_solid_behind(file, read_in, *walls, *glass, reservoir, progress), walls};
  } catch (const Error& error) {
    settings.problem(error);
    return {};
  }
}

}  // namespace

GriddedSolid read_solid_behind(const std::string& path,
                               Lengths unit,
                               const SideWalls& walls,
                               const Glass& glass,
                               const std::optional<Length>& reservoir,
                               const Progress& progress) {
  std::vector<SurfaceCooling> otherwise;
  if (walls.any_assumed()) {
    for (const double factor : side_conductivity_tried) {
      otherwise.push_back(surface_cooling(walls.with_assumed_conductivity_times(factor), glass));
    }
  }
  GriddedSolid solid =
      read_meshed_solid(path, unit, surface_cooling(walls, glass), progress, otherwise);
  if (reservoir && *reservoir > solid.shape.ball) {
    throw Error{{path},
                "its reservoir is thicker than the piece and governs: it has no sides to put walls "
                "on",
                "plan for a slab of the reservoir's thickness with its top and bottom"};
  }
  return solid;
}

Casting parse_casting(
    std::string_view contents,
    const std::string& path,
    const std::function<Glass(const std::string& name, const Place& place)>& read_named_glass,
    const ReadNamedMould& read_named_mould,
    const Progress& progress) {
  Settings settings{parse_entries(contents, path),
                    path,
                    {"title",
                     "glass",
                     "shape",
                     "size",
                     "faces",
                     "reservoir",
                     "thickness_uncertainty",
                     "mould",
                     "top",
                     "bottom",
                     "left",
                     "right",
                     "front",
                     "back",
                     "mould_grips",
                     "mesh",
                     "mesh_unit",
                     "insulated",
                     "inside"}};
  const std::string stem = std::filesystem::path{path}.stem().string();
  const auto as_text = [](const std::string& text, const Place&) { return text; };
  const std::string title = settings.value("title", stem, as_text);

  std::optional<Glass> glass;
  if (const Entry* named = settings.need("glass", "write the name of a shipped glass or a path")) {
    try {
      glass = read_named_glass(seen_from(path, named->value, ".glass"), named->value_place);
    } catch (const Error& error) {
      settings.problem(error);
    }
  }
  std::optional<Length> reservoir;
  if (settings.find("reservoir") != nullptr) {
    reservoir = settings.value(
        "reservoir", thinnest_accepted, [](const std::string& text, const Place& place) {
          return checked_reservoir(read_length(text, place), place);
        });
  }
  std::optional<Shape> shape;
  std::optional<GriddedSolid> solid;
  std::optional<SideWalls> side_walls;
  const Entry* kind =
      settings.need("shape",
                    "write slab, rod, ball, block, disc, bar, prism, tube, vessel, dome, cone, "
                    "wedge, boss, dumbbell or mesh");
  const bool is_mesh = kind != nullptr && kind->value == "mesh";
  const Entry* size =
      is_mesh ? nullptr
              : settings.need("size", "write for example 75 mm, or 75x75x150mm for a block");
  if (is_mesh) {
    const auto read_mould = [&](const std::string& name, const Place& place) {
      return read_named_mould(seen_from(path, name, ".mould"), place);
    };
    MeshOfFile mesh = read_solid_of(path, settings, glass, reservoir, read_mould, progress);
    solid = std::move(mesh.solid);
    side_walls = std::move(mesh.side_walls);
    if (solid) shape = solid->shape;
  } else {
    for (const char* key : {"mesh", "mesh_unit"}) {
      if (settings.find(key) == nullptr) continue;
      settings.problem(key, "only of shape = mesh", "write shape = mesh, or leave it out");
    }
  }
  if (kind != nullptr && size != nullptr) {
    const auto word = [&](const char* key) {
      const Entry* const entry = settings.find(key);
      return entry != nullptr ? std::string_view{entry->value} : std::string_view{};
    };
    const auto place = [&](const char* key) {
      const Entry* const entry = settings.find(key);
      return entry != nullptr ? entry->value_place : kind->value_place;
    };
    try {
      Piece piece = read_piece({.kind = kind->value,
                                .size = size->value,
                                .faces = word("faces"),
                                .kind_place = kind->value_place,
                                .size_place = size->value_place,
                                .faces_place = place("faces"),
                                .inside = word("inside"),
                                .insulated = word("insulated"),
                                .inside_place = place("inside"),
                                .insulated_place = place("insulated")},
                               [&](const std::string& what) {
                                 if (!settings.sound()) throw RefusedAlready{};
                                 if (progress) progress(what);
                               });
      shape = std::move(piece.shape);
      solid = std::move(piece.solid);
    } catch (const Error& error) {
      settings.problem(error);
    } catch (const RefusedAlready&) {
      settings.finish();
    }
  }
  std::optional<Walls> walls;
  if (shape && !side_walls) {
    try {
      walls = read_walls(
          wall_words(settings), *shape, [&](const std::string& name, const Place& place) {
            return read_named_mould(seen_from(path, name, ".mould"), place);
          });
    } catch (const Error& error) {
      settings.problem(error);
    }
  }
  std::optional<double> uncertainty;
  if (shape && settings.find("thickness_uncertainty") != nullptr) {
    const Length ball =
        reservoir ? std::max(*reservoir, largest_ball(*shape)) : largest_ball(*shape);
    uncertainty = settings.value(
        "thickness_uncertainty", 0.05, [&](const std::string& text, const Place& place) {
          return read_thickness_uncertainty(text, place, ball);
        });
  }
  settings.finish();
  return {.title = title,
          .glass = *std::move(glass),
          .shape = *shape,
          .reservoir = reservoir,
          .walls = std::move(walls),
          .solid = std::move(solid),
          .side_walls = std::move(side_walls),
          .thickness_uncertainty = uncertainty};
}

Casting read_casting(
    const std::string& path,
    const std::function<Glass(const std::string& name, const Place& place)>& read_named_glass,
    const ReadNamedMould& read_named_mould,
    const Progress& progress) {
  return parse_casting(read_text_file(path, largest_entries_bytes),
                       path,
                       read_named_glass,
                       read_named_mould,
                       progress);
}

}  // namespace thickset

#pragma once

#include "base/place.h"
#include "base/progress.h"
#include "geometry/equivalent_slab.h"
#include "geometry/meshed_solid.h"
#include "geometry/shape.h"
#include "glass/glass.h"
#include "simulation/side_walls.h"
#include "simulation/walls.h"
#include "units/length.h"

#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace thickset {

/// A piece of glass to be annealed.
struct Casting {
  std::string title;
  Glass glass;
  Shape shape;
  std::optional<Length> reservoir;      ///< largest ball that fits in the reservoir above the piece
  std::optional<Walls> walls{};         ///< mould, shelf, blanket: what lies against the glass
  std::optional<GriddedSolid> solid{};  ///< where the shape is Gridded: what else is known of it
  std::optional<SideWalls> side_walls{};  ///< of a mesh; its shape and slabs hold them already
  /// How well its measures are known, as a share either way, where its file says so.
  std::optional<double> thickness_uncertainty{};

  /// The shape that governs: the piece, or a ball's worth of reservoir where that is thicker (taken
  /// as a slab of the reservoir's thickness, since a reservoir joins the piece on one side).
  Shape governing_shape() const;
  bool reservoir_governs() const;
};

/// Refuses a reservoir that no casting has: below 3 mm or above 1000 mm.
Length checked_reservoir(Length reservoir, const Place& place);

/// A casting from a .casting file: title, glass (a name or a path), shape, size, faces, inside,
/// insulated, reservoir, thickness_uncertainty, and its walls: mould, top, bottom, mould_grips; of
/// shape mesh: mesh and mesh_unit, and walls also on its left, right, front and back.
///
/// In: read_named_glass and read_named_mould, which find and read what the file names; a relative
///     path starts at the file's own folder.
/// Throws: Error with every problem of the file and of its glass.
Casting read_casting(
    const std::string& path,
    const std::function<Glass(const std::string& name, const Place& place)>& read_named_glass,
    const ReadNamedMould& read_named_mould,
    const Progress& progress = {});

/// The same from a text; path: where it was read, for messages and relative paths in it.
Casting parse_casting(
    std::string_view contents,
    const std::string& path,
    const std::function<Glass(const std::string& name, const Place& place)>& read_named_glass,
    const ReadNamedMould& read_named_mould,
    const Progress& progress = {});

/// A mesh behind side walls: its solid, cooled as they let it, and half and double of what is
/// assumed of them beside it.
///
/// Throws: Error, as read_meshed_solid, and for a reservoir that governs, which has no sides.
GriddedSolid read_solid_behind(const std::string& path,
                               Lengths unit,
                               const SideWalls& walls,
                               const Glass& glass,
                               const std::optional<Length>& reservoir,
                               const Progress& progress);

/// "mm" or "inch", the unit of a mesh. Throws: Error at `place`.
Lengths read_mesh_unit(std::string_view text, const Place& place);

}  // namespace thickset

#include "inputs.h"

#include <algorithm>
#include <cstdio>

#include <fmt/format.h>

#include "base/data_folder.h"
#include "base/entries.h"
#include "base/error.h"
#include "base/text_file.h"
#include "geometry/meshed_solid.h"
#include "geometry/read_piece.h"
#include "glass/read_glass.h"
#include "progress_line.h"
#include "recorded_files.h"
#include "reporting/history_csv.h"
#include "schedule/notation.h"
#include "schedule/read_controller.h"
#include "screen.h"
#include "sketching.h"
#include "units/read_quantity.h"

namespace thickset::cli {
namespace {

constexpr const char* usual_kiln = "middling-brick";
constexpr const char* usual_controller_C = "ten-steps-by-rate";
constexpr const char* usual_controller_F = "ten-steps-by-rate-F";

std::string path_of(DataKind kind, const std::string& name, const Place& asked_by) {
  const std::string shipped = data_folder();
  std::string path =
      find_data_file(shipped, kind.folder, kind.extension, name, to_string(asked_by));
  if (hides_shipped(path, shipped, kind.folder, kind.extension, name)) {
    fmt::print(stderr, "{}: your own file, in place of the shipped one of that name\n", path);
  }
  return path;
}

using File = RecordedFiles::File;

/// The file of a data kind by its name, from the record where one is checked.
File file_of(DataKind kind, const std::string& name, const Place& asked_by) {
  RecordedFiles& recorded = RecordedFiles::of_this_run();
  if (recorded.replaying()) return recorded.find(kind.extension, name);
  const std::string path = path_of(kind, name, asked_by);
  File file{kind.extension, name, path, read_text_file(path, largest_entries_bytes)};
  recorded.add(file);
  return file;
}

/// Of what is used where none is named: in a record, the one it has.
File usual_file(DataKind kind, const char* name, const Place& asked_by) {
  const RecordedFiles& recorded = RecordedFiles::of_this_run();
  return recorded.replaying() ? recorded.first(kind.extension) : file_of(kind, name, asked_by);
}

Place typed_as(const char* name) {
  return {.source = name};
}

Piece piece_of(const Options& options) {
  const std::string kind = options.shape.value_or("slab");
  const bool by_thickness = kind == "slab" || kind == "rod" || kind == "ball";
  if (options.thickness && options.size) {
    throw Error{
        typed_as("--size"), "--thickness and --size are both given", "leave one of them out"};
  }
  if (by_thickness && !options.thickness && !options.size) {
    throw Error{typed_as("--thickness"), "it is missing", "write for example --thickness 75mm"};
  }
  const bool thickness_of_other = options.thickness && !by_thickness;
  if (thickness_of_other) {
    throw Error{typed_as("--thickness"),
                fmt::format("a {} is described by its --size", kind),
                "see `thickset list` and --help for the forms of --size"};
  }
  if (options.thickness) read_length(*options.thickness, typed_as("--thickness"));
  const auto word = [](const std::optional<std::string>& text) {
    return text ? std::string_view{*text} : std::string_view{};
  };
  ProgressLine line{stderr, is_terminal(stderr)};
  return read_piece({.kind = kind,
                     .size = word(options.thickness ? options.thickness : options.size),
                     .faces = word(options.faces),
                     .kind_place = typed_as("--shape"),
                     .size_place = typed_as(options.thickness ? "--thickness" : "--size"),
                     .faces_place = typed_as("--faces"),
                     .inside = word(options.inside),
                     .insulated = word(options.insulated),
                     .inside_place = typed_as("--inside"),
                     .insulated_place = typed_as("--insulated")},
                    [&](const std::string& what) { line.say(what); });
}

}  // namespace

std::string data_folder() {
  return find_data_folder(THICKSET_DATA_FROM_PROGRAM, THICKSET_SOURCE_DATA);
}

std::vector<std::string> names_of(DataKind kind) {
  const std::string own = own_data_folder();
  std::vector<std::string> names;
  if (!own.empty()) names = data_names(own, kind.folder, kind.extension);
  const std::vector<std::string> owned = names;
  for (const std::string& name : data_names(data_folder(), kind.folder, kind.extension)) {
    if (!std::binary_search(owned.begin(), owned.end(), name)) names.push_back(name);
  }
  return names;
}

Glass load_glass(const std::string& name, const Place& asked_by) {
  const File file = file_of(glasses, name, asked_by);
  return parse_glass(file.text, file.read_from);
}

Mould load_mould(const std::string& name, const Place& asked_by) {
  const File file = file_of(moulds, name, asked_by);
  return parse_mould(file.text, file.read_from);
}

Casting load_casting_file(const std::string& name, const Place& asked_by) {
  ProgressLine line{stderr, is_terminal(stderr)};
  const File file = file_of(castings, name, asked_by);
  return parse_casting(
      file.text, file.read_from, load_glass, load_mould, [&](const std::string& what) {
        line.say(what);
      });
}

namespace {

WallWords wall_words(const Options& options) {
  const auto word = [](const std::optional<std::string>& text, const char* name) {
    return text ? std::optional{PlacedText{*text, typed_as(name)}} : std::nullopt;
  };
  return {.mould = word(options.mould, "--mould"),
          .top = word(options.top, "--top"),
          .bottom = word(options.bottom, "--bottom"),
          .left = word(options.left, "--left"),
          .right = word(options.right, "--right"),
          .front = word(options.front, "--front"),
          .back = word(options.back, "--back"),
          .grips = word(options.mould_grips, "--mould-grips")};
}

/// The solid of --mesh, and what lies against chosen sides of it.
struct MeshOfOptions {
  std::optional<GriddedSolid> solid;  ///< nullopt: the casting has another shape
  std::optional<SideWalls> side_walls;
};

MeshOfOptions solid_of(const Options& options,
                       const Glass& glass,
                       const std::optional<Length>& reservoir) {
  if (!options.mesh) {
    if (!options.mesh_unit) return {};
    throw Error{typed_as("--mesh-unit"), "it needs a --mesh", "add --mesh FILE, or leave it out"};
  }
  if (options.shape || options.thickness || options.size || options.faces || options.inside) {
    throw Error{typed_as("--mesh"),
                "it gives the shape and its size already",
                "leave out --shape, --thickness, --size, --faces and --inside, or --mesh"};
  }
  if (!options.mesh_unit) {
    throw Error{
        typed_as("--mesh-unit"), "it is missing", "write what the STL file counts in: mm or inch"};
  }
  const Lengths unit = read_mesh_unit(*options.mesh_unit, typed_as("--mesh-unit"));
  const std::vector<BoxSide> insulated =
      options.insulated ? read_sides(*options.insulated, typed_as("--insulated"))
                        : std::vector<BoxSide>{};
  ProgressLine line{stderr, is_terminal(stderr)};
  const Progress progress = [&](const std::string& what) { line.say(what); };
  const std::optional<SideWalls> walls =
      read_side_walls(wall_words(options), insulated, load_mould);
  if (walls) {
    return {read_solid_behind(*options.mesh, unit, *walls, glass, reservoir, progress), walls};
  }
  const SurfaceCooling cooling = SurfaceCooling::insulated_at(insulated);
  return {read_meshed_solid(*options.mesh, unit, cooling, progress), std::nullopt};
}

/// Walls on the sides of a mesh are part of its temperature field, which is known by now.
[[noreturn]] void refuse_other_walls(const Place& place) {
  throw Error{place,
              "the walls on the sides of this mesh are those of the casting's file",
              "change them in the file, or describe the casting with --mesh and options"};
}

/// The walls of the options in place of those of a file.
void put_walls(const Options& options, Casting& casting) {
  const WallWords words = wall_words(options);
  if (!words.mould && !words.top && !words.bottom && !words.left && !words.right && !words.front &&
      !words.back) {
    if (!options.mould_grips) return;
    if (casting.side_walls) refuse_other_walls(typed_as("--mould-grips"));
    if (casting.walls) {
      casting.walls->held = read_grips({*options.mould_grips, typed_as("--mould-grips")});
      return;
    }
  }
  const bool of_sides =
      words.top || words.bottom || words.left || words.right || words.front || words.back;
  const bool is_mesh = casting.solid && casting.solid->places == PlaceWords::from_corner;
  if (casting.side_walls || (is_mesh && of_sides)) {
    refuse_other_walls(typed_as(words.mould ? "--mould" : "--casting"));
  }
  casting.walls = read_walls(words, casting.shape, load_mould);
}

Casting described_casting(const Options& options) {
  if (options.casting) {
    if (options.glass || options.shape || options.thickness || options.size || options.faces ||
        options.mesh || options.inside || options.insulated) {
      throw Error{typed_as("--casting"),
                  "it describes the glass and the shape already",
                  "leave out --glass, --shape, --thickness, --size, --faces, --inside, --insulated "
                  "and --mesh, or --casting"};
    }
    Casting casting = load_casting_file(*options.casting, typed_as("--casting"));
    if (options.reservoir) {
      casting.reservoir = checked_reservoir(*options.reservoir, typed_as("--reservoir"));
    }
    put_walls(options, casting);
    return casting;
  }
  if (!options.glass) {
    throw Error{
        {},
        "no casting is given",
        "give --casting FILE, or --glass and --thickness; `thickset list` shows what ships"};
  }
  std::optional<Length> reservoir;
  if (options.reservoir) reservoir = checked_reservoir(*options.reservoir, typed_as("--reservoir"));
  const Glass glass = load_glass(*options.glass, typed_as("--glass"));
  const MeshOfOptions mesh = solid_of(options, glass, reservoir);
  const Piece piece = mesh.solid ? Piece{mesh.solid->shape, mesh.solid} : piece_of(options);
  Casting casting{.title = describe(piece.shape, options.lengths),
                  .glass = glass,
                  .shape = piece.shape,
                  .reservoir = reservoir,
                  .walls = {},
                  .solid = piece.solid,
                  .side_walls = mesh.side_walls};
  if (!casting.side_walls) put_walls(options, casting);
  return casting;
}

}  // namespace

namespace {

/// A program or a log is asked for, a file of data is named.
void refuse_data_file(const std::string& name) {
  for (const auto& [kind, option] : {std::pair{glasses, "--glass"},
                                     std::pair{castings, "--casting"},
                                     std::pair{moulds, "--mould"},
                                     std::pair{kilns, "--kiln"},
                                     std::pair{controllers, "--controller"}}) {
    if (!name.ends_with(fmt::format(".{}", kind.extension))) continue;
    throw Error{{.source = name},
                fmt::format("a {} file, not a program or a log", kind.extension),
                fmt::format("name it with {}, and here a program or a log", option)};
  }
}

/// Of a file, or of standard input where its name is "-".
InputText read_file_or_standard_input(const std::string& name) {
  if (name != "-") return {read_text_file(name), name};
  if (is_terminal(stdin) && is_terminal(stderr)) {
    print_error("reading standard input; a line with Ctrl-D alone ends it\n");
  }
  return {read_standard_input(), std::string{standard_input}};
}

}  // namespace

InputText read_input(const std::string& name) {
  refuse_data_file(name);
  RecordedFiles& recorded = RecordedFiles::of_this_run();
  if (recorded.replaying()) {
    const File& file = recorded.find("input", name);
    return {file.text, name == "-" ? std::string{standard_input} : name};
  }
  const InputText input = read_file_or_standard_input(name);
  recorded.add({"input", name, input.source, input.text});
  return input;
}
Program read_program_input(const std::string& name) {
  const InputText input = read_input(name);
  return parse_program(input.text, input.source);
}

Casting load_casting(const Options& options) {
  Casting casting = described_casting(options);
  if (options.bulk) casting.glass.relaxation.bulk = *options.bulk;
  return casting;
}

std::vector<Casting> load_castings(const Options& options) {
  std::vector<Casting> loaded{load_casting(options)};
  for (const std::string& name : options.with) {
    loaded.push_back(load_casting_file(name, typed_as("--with")));
    if (options.bulk) loaded.back().glass.relaxation.bulk = *options.bulk;
  }
  return loaded;
}

Kiln load_kiln(const Options& options) {
  const File file = options.kiln ? file_of(kilns, *options.kiln, typed_as("--kiln"))
                                 : usual_file(kilns, usual_kiln, typed_as("--kiln"));
  Kiln kiln = parse_kiln(file.text, file.read_from);
  kiln.natural_cooling = kiln.natural_cooling.in_room(options.firing.room);
  if (!options.kiln) {
    kiln.assumed.push_back(
        fmt::format("kiln: {}, since none was named: give --kiln with your own", kiln.title));
  }
  return kiln;
}

Controller load_controller(const Options& options) {
  const bool in_F = options.degrees == Degrees::fahrenheit;
  const File file = options.controller
                        ? file_of(controllers, *options.controller, typed_as("--controller"))
                        : usual_file(controllers,
                                     in_F ? usual_controller_F : usual_controller_C,
                                     typed_as("--controller"));
  Controller controller = parse_controller(file.text, file.read_from);
  if (options.steps && *options.steps > controller.steps) {
    throw Error{typed_as("--steps"),
                fmt::format("{} steps are more than the {} of this controller ({})",
                            *options.steps,
                            controller.steps,
                            controller.title),
                fmt::format("write 2 to {}, or name another --controller", controller.steps)};
  }
  return controller;
}

std::vector<Bulk> bulks_held_to(const Options& options) {
  if (options.bulk) return {*options.bulk};
  return {all_bulks.begin(), all_bulks.end()};
}

HeatUp load_heat_up(const Options& options) {
  if (options.heat_up) return {0, read_program_input(*options.heat_up), typed_as("--heat-up")};
  return {options.reserve.value_or(0), std::nullopt, typed_as("--reserve")};
}

void deliver_history(const Options& options, const Measured& measured) {
  if (options.trace) write_text_file(*options.trace, trace_csv(measured.history));
  if (options.profile) write_text_file(*options.profile, profile_csv(measured.profile));
}

void deliver(const Options& options, const std::string& answer) {
  const std::string text = options.format == Format::text ? as_shown(options, answer) : answer;
  if (options.out && options.out != "-") {
    write_text_file(*options.out, text);
    return;
  }
  print_to_screen(text);
}

}  // namespace thickset::cli
